package music

// Mode tells major from minor where the score or the music says so.
type Mode int8

// Modes. Unknown is the zero value: many files give the signature only.
const (
	UnknownMode Mode = iota
	Major
	Minor
)

// Key is a key signature (sharps positive, flats negative, -7 to 7) with its
// mode where known. The zero value has no sharps or flats.
type Key struct {
	Fifths int8
	Mode   Mode
}

// fifthsOrder places each letter name on the line of fifths: F is 0, B is 6.
var fifthsOrder = [7]int{1, 3, 5, 0, 2, 4, 6}

// Alter returns the alteration the signature gives to a letter name.
func (k Key) Alter(s Step) int {
	n := int(k.Fifths)
	if n >= 0 {
		// The first sharp is F, the seventh B.
		return (n - fifthsOrder[s] + 6) / 7
	}
	// The first flat is B, the seventh F.
	return -((-n - (6 - fifthsOrder[s]) + 6) / 7)
}

// Tonic returns letter and alteration of the key note; an unknown mode is
// read as major.
func (k Key) Tonic() (Step, int) {
	n := int(k.Fifths)
	if k.Mode == Minor {
		n += 3
	}
	// C is 1 on the line of fifths that starts at F.
	n++
	alter := floorDiv(n, 7)
	place := n - alter*7
	for s, at := range fifthsOrder {
		if at == place {
			return Step(s), alter
		}
	}
	panic("music: no tonic")
}

// String prints "C# minor"; an unknown mode is read as major.
func (k Key) String() string {
	step, alter := k.Tonic()
	name := Pitch{Step: step, Alter: int8(alter)}.class()
	if k.Mode == Minor {
		return name + " minor"
	}
	return name + " major"
}

// Degree returns the scale degree, 1 to 7, of a letter name.
func (k Key) Degree(s Step) int {
	tonic, _ := k.Tonic()
	return (int(s)-int(tonic)+7)%7 + 1
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}
