package realize

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"agremens/realize/music"
)

// ErrOwn says that a text is no realization of a user's own.
var ErrOwn = errors.New("realize: this is no realization")

// maxOwn bounds the notes of a realization that is read.
const maxOwn = 256

// Text writes a realization as lines: first "own" or "edition" and the line
// why, then one line a note: pitch, onset and length in quarters, and where
// it is so "tied", "free" (unmeasured) and the strength.
func (o Own) Text() string {
	var b strings.Builder
	head := "own"
	if o.Edition {
		head = "edition"
	}
	b.WriteString(strings.TrimSpace(head + " " + strings.Join(strings.Fields(o.Why), " ")))
	for _, n := range o.Notes {
		fmt.Fprintf(&b, "\n%s %s %s %d", n.Pitch, n.Onset, n.Dur, n.Degree)
		if n.Tied {
			b.WriteString(" tied")
		}
		if !n.Measured {
			b.WriteString(" free")
		}
		if n.Strength != 1 {
			b.WriteString(" " + strconv.FormatFloat(float64(n.Strength), 'g', 4, 32))
		}
	}
	return b.String()
}

// ParseOwn reads what [Own.Text] writes. Errors wrap [ErrOwn].
func ParseOwn(text string) (Own, error) {
	lines := strings.Split(text, "\n")
	head, why, _ := strings.Cut(lines[0], " ")
	o := Own{Why: why, Edition: head == "edition"}
	if head != "own" && head != "edition" || len(lines) < 2 || len(lines) > maxOwn {
		return Own{}, ErrOwn
	}
	for _, line := range lines[1:] {
		n, err := parseOwnNote(strings.Fields(line))
		if err != nil {
			return Own{}, fmt.Errorf("%w: %q: %w", ErrOwn, line, err)
		}
		if k := len(o.Notes); k > 0 && n.Onset.Less(o.Notes[k-1].Onset) {
			return Own{}, fmt.Errorf("%w: %q comes before the note above it", ErrOwn, line)
		}
		o.Notes = append(o.Notes, n)
	}
	return o, nil
}

func parseOwnNote(words []string) (n Note, err error) {
	if len(words) < 4 {
		return n, errors.New("a note has a pitch, an onset, a length and a degree")
	}
	if n.Pitch, err = music.ParsePitch(words[0]); err != nil {
		return n, err
	}
	if n.Onset, err = ownFrac(words[1]); err != nil {
		return n, err
	}
	if n.Dur, err = ownFrac(words[2]); err != nil {
		return n, err
	}
	if n.Dur.Sign() <= 0 {
		return n, errors.New("a note has a length")
	}
	if n.Degree, err = strconv.Atoi(words[3]); err != nil || n.Degree < -40 || n.Degree > 40 {
		return n, errors.New("a degree is a number of steps")
	}
	n.Strength, n.Measured = 1, true
	for _, w := range words[4:] {
		switch w {
		case "tied":
			n.Tied = true
		case "free":
			n.Measured = false
		default:
			v, err := strconv.ParseFloat(w, 32)
			if err != nil || !(v > 0.1 && v < 4) {
				return n, errors.New("the strength lies between 0.1 and 4")
			}
			n.Strength = float32(v)
		}
	}
	return n, nil
}

// ownFrac reads a time in quarters of bounded size.
func ownFrac(s string) (music.Frac, error) {
	f, err := music.ParseFrac(s)
	if err == nil && !f.Bounded(1<<20) {
		err = errors.New("the time is out of bounds")
	}
	return f, err
}

// ownBorrows says who gives the time that a user's realization takes beyond
// its note.
func (pl *place) ownBorrows(notes []Note) []Borrow {
	if len(notes) == 0 {
		return nil
	}
	var out []Borrow
	if first := notes[0].Onset; first.Sign() < 0 {
		b := Borrow{Amount: first.Neg()}
		if pl.before != nil && !pl.before.IsRest() {
			b.Note = melodyID(pl.before, pl.prev)
		}
		out = append(out, b)
	}
	if over := span(notes).Sub(pl.room); over.Sign() > 0 {
		out = append(out, Borrow{Note: nextID(pl), Amount: over, After: true})
	}
	return out
}
