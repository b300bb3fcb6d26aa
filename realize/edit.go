package realize

import (
	"errors"
	"fmt"

	"agremens/realize/music"
	"agremens/realize/score"
)

// Own is a realization that the user wrote, or found in an edition. It leads
// the list of its ornament and no later version of the program changes it.
type Own struct {
	Notes []Note
	// Borrows may be left nil: then the neighbours give what the notes take
	// beyond their own.
	Borrows []Borrow
	Why     string // a line of the user's
	Edition bool   // "as in my edition"
}

// Edit changes a choice. The zero value changes nothing.
type Edit struct {
	// First moves the start: 1 to the upper note, -1 to the main note.
	First int
	// Alternations adds or takes away pairs.
	Alternations int
	// Ending adds (1) or takes away (-1) the lower neighbour and the principal.
	Ending int
	// Upper and Lower move a neighbour by semitones.
	Upper, Lower int
	// Shift moves the start: negative before the beat, in quarters.
	Shift music.Frac
}

// ErrEdit says that nothing playable would be left.
var ErrEdit = errors.New("realize: nothing is left to play")

// Edited returns a choice with an edit applied. Its notes share the time they
// had evenly where their number changed. Errors wrap [ErrEdit].
func (c Choice) Edited(principal music.Pitch, e Edit) (Choice, error) {
	if len(c.Notes) == 0 {
		return c, ErrEdit
	}
	notes := append([]Note(nil), c.Notes...)
	count := len(notes)
	if e.First > 0 && notes[0].Degree == 0 {
		notes = append([]Note{neighbourNote(notes, principal, 1)}, notes...)
	}
	if e.First < 0 && notes[0].Degree == 1 && len(notes) > 1 {
		notes = notes[1:]
	}
	for n := e.Alternations; n > 0; n-- {
		at := alternation(notes)
		if at < 0 {
			return c, fmt.Errorf("%w: there is no alternation to repeat", ErrEdit)
		}
		pair := []Note{notes[at], notes[at+1]}
		notes = append(notes[:at:at], append(pair, notes[at:]...)...)
	}
	for n := e.Alternations; n < 0; n++ {
		at := alternation(notes)
		if at < 0 || len(notes) < 4 {
			return c, fmt.Errorf("%w: no alternation can be spared", ErrEdit)
		}
		notes = append(notes[:at:at], notes[at+2:]...)
	}
	k := len(notes)
	closed := k >= 3 && notes[k-1].Degree == 0 && notes[k-2].Degree == -1
	if e.Ending > 0 && !closed {
		main := notes[k-1]
		main.Pitch, main.Degree = principal, 0
		notes = append(notes, neighbourNote(notes, principal, -1), main)
	}
	if e.Ending < 0 && closed {
		notes = notes[:k-2]
	}
	begin, end := c.Notes[0].Onset.Add(e.Shift), span(c.Notes)
	if !begin.Less(end) || len(notes) == 0 {
		return c, ErrEdit
	}
	if len(notes) != count || !e.Shift.IsZero() {
		each := end.Sub(begin).Div(music.Int(int64(len(notes))))
		for i := range notes {
			notes[i].Onset, notes[i].Dur = begin.Add(each.Mul(music.Int(int64(i)))), each
		}
	}
	for i := range notes {
		switch notes[i].Degree {
		case 1:
			notes[i].Pitch.Alter += int8(e.Upper)
		case -1:
			notes[i].Pitch.Alter += int8(e.Lower)
		}
	}
	out := c
	out.Key, out.Name, out.Notes, out.Fingering = "own", c.Name+", changed", notes, nil
	return out, nil
}

// alternation finds a pair that is repeated, or could be.
func alternation(notes []Note) int {
	for i := 0; i+1 < len(notes); i++ {
		a, b := notes[i].Degree, notes[i+1].Degree
		if a == 0 && (b == 1 || b == -1) || b == 0 && (a == 1 || a == -1) {
			return i
		}
	}
	return -1
}

func neighbourNote(notes []Note, principal music.Pitch, step int) Note {
	n := notes[0]
	for i := range notes {
		if notes[i].Degree == step {
			n.Pitch, n.Degree = notes[i].Pitch, step
			return n
		}
	}
	n.Pitch, n.Degree = principal.Neighbour(step, music.Key{}), step
	return n
}

func span(notes []Note) music.Frac {
	var end music.Frac
	for _, n := range notes {
		end = end.Max(n.Onset.Add(n.Dur))
	}
	return end
}

// ownChoice makes a user's realization the first choice, checked like the
// others.
func (pl *place) ownChoice(own Own) Choice {
	c := Choice{Key: "own", Name: "your own", Notes: own.Notes, Borrows: own.Borrows,
		Reason:  clip("Your own decision. "+own.Why, ReasonWords),
		Sources: []Source{{"your own decision", StatusMemory}}}
	if own.Edition {
		c.Name = "as in your edition"
		c.Reason = clip("As in your edition. "+own.Why, ReasonWords)
		c.Sources = []Source{{"your edition", StatusMemory}}
	}
	if c.Borrows == nil {
		c.Borrows = pl.ownBorrows(c.Notes)
	}
	c.NotesPerSecond = pl.speed(c.Notes)
	c.fingered(pl.fingerings(c.Notes))
	sh := shape{}
	if len(c.Notes) > 6 {
		sh.time = shake
	}
	c.Warnings = pl.warnings(&sh, &c)
	return c
}

// own returns the user's realization of a note, if any.
func (t *Taste) own(id score.ID) (Own, bool) {
	o, ok := t.Own[id]
	return o, ok && len(o.Notes) > 0
}
