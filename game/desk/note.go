package desk

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// SelectNote selects a written note, and the ornament that it or its chord
// carries, if there is one.
func (d *Desk) SelectNote(id score.ID) {
	if _, ok := d.Passage.Find(id); !ok {
		return
	}
	d.Note = id
	d.Selected = d.ornamentOf(id)
}

// ornamentOf returns the index of the ornament on a note, -1 for none: first
// one whose principal it is, else one that covers it.
func (d *Desk) ornamentOf(id score.ID) int {
	covers := -1
	for i := range d.Reading.Ornaments {
		o := &d.Reading.Ornaments[i]
		if o.Note == id {
			return i
		}
		if covers < 0 && slices.Contains(o.Covers, id) {
			covers = i
		}
	}
	return covers
}

// follow keeps note and ornament together after the reading has changed.
func (d *Desk) follow() {
	if _, ok := d.Passage.Find(d.Note); ok && d.Note != "" {
		d.Selected = d.ornamentOf(d.Note)
		return
	}
	d.Selected = min(d.Selected, len(d.Reading.Ornaments)-1)
	d.noteOfOrnament()
}

// noteOfOrnament makes the selected ornament's principal the selected note.
func (d *Desk) noteOfOrnament() {
	d.Note = ""
	if o, ok := d.Ornament(); ok {
		d.Note = o.Note
	}
}

// StepNote moves the selection along its voice by n notes, within the chosen
// measures.
func (d *Desk) StepNote(n int) {
	r, ok := d.Passage.Find(d.Note)
	if !ok {
		d.firstNote()
		return
	}
	at := &d.Passage.Chords[r.Chord]
	var line []score.ID
	here := 0
	for i := range d.Passage.Chords {
		c := &d.Passage.Chords[i]
		if c.IsRest() || c.Grace != nil || c.Hidden || c.Voice != at.Voice || c.Measure < d.From || c.Measure >= d.To {
			continue
		}
		if i == r.Chord {
			here = len(line)
			line = append(line, d.Note)
			continue
		}
		line = append(line, c.Top().ID)
	}
	if len(line) > 0 {
		d.SelectNote(line[min(len(line)-1, max(0, here+n))])
	}
}

// StepVoice moves the selection to the next higher (1) or lower (-1) note
// that stands at the same moment, or sounds on from before it.
func (d *Desk) StepVoice(n int) {
	r, ok := d.Passage.Find(d.Note)
	if !ok {
		d.firstNote()
		return
	}
	p := d.Passage
	at := p.Chords[r.Chord].Onset
	type place struct {
		id     score.ID
		height int // upper staff first, then by pitch
	}
	var column []place
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.IsRest() || c.Grace != nil || c.Hidden || c.Onset.Cmp(at) > 0 || c.End().Cmp(at) <= 0 {
			continue
		}
		for j := range c.Notes {
			column = append(column, place{c.Notes[j].ID, c.Notes[j].Pitch.MIDI() - 1000*c.Staff})
		}
	}
	sorting.Stable(column, func(a, b place) int { return a.height - b.height })
	here := slices.IndexFunc(column, func(c place) bool { return c.id == d.Note })
	if to := here + n; to >= 0 && to < len(column) {
		d.SelectNote(column[to].id)
	}
}

// firstNote selects the first note of the chosen measures.
func (d *Desk) firstNote() {
	for i := range d.Passage.Chords {
		c := &d.Passage.Chords[i]
		if c.Measure >= d.From && c.Measure < d.To && !c.IsRest() && c.Grace == nil {
			d.SelectNote(c.Top().ID)
			return
		}
	}
}

// Onset is where the selection stands; ok is false where nothing is selected.
func (d *Desk) Onset() (onset music.Frac, ok bool) {
	if o, ok := d.Ornament(); ok {
		return o.Onset, true
	}
	if r, ok := d.Passage.Find(d.Note); ok {
		return d.Passage.Chords[r.Chord].Onset, true
	}
	return onset, false
}

// NoteWords says what is selected where no ornament is: "Bar 3, C♯5".
func (d *Desk) NoteWords() string {
	r, ok := d.Passage.Find(d.Note)
	if !ok {
		return ""
	}
	c := &d.Passage.Chords[r.Chord]
	return d.Words.Say("Bar {bar}, {hand}, {note}", "{bar}", d.Passage.Measures[c.Measure].Number, "{hand}", HandInWords(d.Words, c.Staff), "{note}", d.Naming.Name(d.Passage.At(r).Pitch))
}

// Carried is what is on a note: keys of the menu's signs, "" for none or
// another, and the accidentals above and below the sign.
type Carried struct {
	Sign, Small  string
	Above, Below string
}

// Carried returns what the selected note carries.
func (d *Desk) Carried() Carried {
	var out Carried
	r, ok := d.Passage.Find(d.Note)
	if !ok {
		return out
	}
	for _, s := range d.Passage.Chords[r.Chord].Signs {
		for _, info := range Signs() {
			if out.Sign == "" && info.same(s) {
				out.Sign = info.Key
			}
		}
		for _, a := range s.Accidentals {
			if a.Below {
				out.Below = a.Value
			} else {
				out.Above = a.Value
			}
		}
	}
	small := d.smallNotes(r)
	out.Small = smallKey(small, d.Passage.At(r).Pitch)
	if !d.Passage.Chords[r.Chord].Signed() {
		for _, g := range small {
			switch n := g.Top(); {
			case n.Pitch.Diatonic() > d.Passage.At(r).Pitch.Diatonic():
				out.Above = n.Accidental
			case n.Pitch.Diatonic() < d.Passage.At(r).Pitch.Diatonic():
				out.Below = n.Accidental
			}
		}
	}
	return out
}

// smallNotes returns the small notes that lean on a note's chord, in order.
func (d *Desk) smallNotes(r score.Ref) []*score.Chord {
	c := &d.Passage.Chords[r.Chord]
	var small []*score.Chord
	for i := r.Chord - 1; i >= 0; i-- {
		g := &d.Passage.Chords[i]
		if g.Onset != c.Onset || g.Measure != c.Measure {
			break
		}
		if g.Grace != nil && !g.Grace.After && g.Voice == c.Voice && !g.IsRest() {
			small = append(small, g)
		}
	}
	slices.Reverse(small)
	return small
}

// smallKey returns the key of the menu's small notes that stand before a note.
func smallKey(small []*score.Chord, main music.Pitch) string {
	if len(small) == 0 {
		return ""
	}
	var steps []int
	for _, g := range small {
		steps = append(steps, g.Top().Pitch.Diatonic()-main.Diatonic())
	}
	for _, info := range Signs() {
		if slices.Equal(info.Small, steps) && info.Slash == small[0].Grace.Slash {
			return info.Key
		}
	}
	return ""
}
