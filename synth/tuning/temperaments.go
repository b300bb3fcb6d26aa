package tuning

import "math"

// The two commas and the pure fifth, in cents.
var (
	pure        = 1200 * math.Log2(1.5)
	pythagorean = 12*pure - 7*1200
	syntonic    = 4*pure - 2*1200 - 1200*math.Log2(1.25)
	schisma     = pythagorean - syntonic
)

// fifths names how much each fifth is narrowed, in cents, by its lower note.
// Those not named are pure; the fifth that closes the circle takes what is
// left.
type fifths map[string]float64

// circle is the order of the fifths from C; the last one, F–C, closes.
var circle = [12]string{"C", "G", "D", "A", "E", "B", "F#", "C#", "G#", "Eb", "Bb", "F"}

// fromFifths adds the fifths up, sharpwards from C as far as G sharp and
// flatwards to E flat, so that what is left over falls on G sharp–E flat.
func fromFifths(name string, narrow fifths) Tuning {
	var above [12]float64 // cents above C by place in the circle
	for i := 1; i <= 8; i++ {
		above[i] = above[i-1] + pure - narrow[circle[i-1]]
	}
	at := 0.0
	for i := 11; i >= 9; i-- {
		at -= pure - narrow[circle[i]]
		above[i] = at
	}
	t := Tuning{Name: name, Label: labels[name], A: 440}
	for i, cents := range above {
		class := i * 7 % 12
		octave := math.Mod(cents, 1200)
		if octave < 0 {
			octave += 1200
		}
		t.Cents[class] = octave - 100*float64(class)
	}
	a := t.Cents[9]
	for i := range t.Cents {
		t.Cents[i] -= a
	}
	return t
}

// labels are the temperaments' names for menus.
//
//words:texts
var labels = map[string]string{
	"equal":         "Equal temperament",
	"meantone":      "Quarter-comma mean-tone",
	"werckmeister3": "Werckmeister III (1691)",
	"neidhardt":     "Neidhardt I (1724)",
	"vallotti":      "Vallotti (about 1750)",
	"kirnberger3":   "Kirnberger III (about 1779)",
	"young":         "Young II (1800)",
}

// All lists the temperaments, equal first, then by age.
//
// Sources of the definitions: Werckmeister III and Kirnberger III by their
// published fifths; Vallotti after the six white-key fifths by a sixth of a
// comma; Young after his second temperament, which is Vallotti's begun a
// fifth later; Neidhardt's first of 1724. Meantone is from memory; the tests
// name the published tables that the others agree with.
func All() []Tuning {
	p, s := pythagorean, syntonic
	each := func(narrow float64, roots ...string) fifths {
		f := fifths{}
		for _, r := range roots {
			f[r] = narrow
		}
		return f
	}
	kirnberger := each(s/4, "C", "G", "D", "A")
	kirnberger["F#"] = schisma
	neidhardt := each(p/6, "C", "G", "D", "A")
	for _, r := range []string{"E", "B", "Eb", "G#"} {
		neidhardt[r] = p / 12
	}
	return []Tuning{
		{Name: "equal", Label: labels["equal"], A: 440},
		fromFifths("meantone", each(s/4, circle[:8]...).with(s/4, "Eb", "Bb", "F")),
		fromFifths("werckmeister3", each(p/4, "C", "G", "D", "B")),
		fromFifths("neidhardt", neidhardt),
		fromFifths("vallotti", each(p/6, "F", "C", "G", "D", "A", "E")),
		fromFifths("kirnberger3", kirnberger),
		fromFifths("young", each(p/6, "C", "G", "D", "A", "E", "B")),
	}
}

func (f fifths) with(narrow float64, roots ...string) fifths {
	for _, r := range roots {
		f[r] = narrow
	}
	return f
}
