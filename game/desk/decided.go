package desk

import (
	"agremens/realize"
	"agremens/realize/score"
)

// Decided reports whether the i-th ornament of the reading was decided: one of
// its choices was taken or ticked, also in one pass of a repeat alone.
func (d *Desk) Decided(i int) bool {
	note := d.Reading.Ornaments[i].Note
	_, chosen := d.Taste.Chosen[note]
	_, own := d.Taste.Own[note]
	for p := range d.Taste.Passes {
		chosen = chosen || p.Note == note
	}
	return chosen || own
}

// decidedIn counts the signs that a taste decides.
func decidedIn(t realize.Taste) int {
	notes := map[score.ID]bool{}
	for note := range t.Chosen {
		notes[note] = true
	}
	for note := range t.Own {
		notes[note] = true
	}
	for p := range t.Passes {
		notes[p.Note] = true
	}
	return len(notes)
}

// Tick decides for the i-th ornament what is played there now.
func (d *Desk) Tick(i int) {
	if o := &d.Reading.Ornaments[i]; !d.Decided(i) && len(o.Choices) > 0 {
		d.decide(d.Taste.Choose(o.Note, o.Choices[o.Chosen].Key))
	}
}

// Untick takes that back. Notes of the user's own stay, and stay decided.
func (d *Desk) Untick(i int) {
	note := d.Reading.Ornaments[i].Note
	if _, own := d.Taste.Own[note]; !own {
		fingers, kept := d.Taste.Fingers[note]
		t := d.Taste.Forget(note)
		if kept {
			t = t.WithFingers(note, fingers.Key, fingers.Fingers)
		}
		d.decide(t)
	}
}
