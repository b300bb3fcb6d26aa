package realize

import "agremens/realize/music"

// Cut returns the reading of the measures [from, to) alone ([score.Passage.Cut]):
// the same choices, with their ids, at the tempo in force there. Nothing is
// read anew, since what comes before decides how the bars are played. It
// panics where the measures do not exist.
func (r *Reading) Cut(from, to int) *Reading {
	p := r.Passage
	if from == 0 && to == len(p.Measures) {
		return r
	}
	q := *r
	q.Passage = p.Cut(from, to)
	start := p.Measures[from].Onset
	q.Tempo = performTempo(r).At(start)
	// Chords keep their order: each moves by those left out before it.
	place, kept := make([]int, len(p.Chords)), 0
	for i := range p.Chords {
		place[i] = kept
		if m := p.Chords[i].Measure; m >= from && m < to {
			kept++
		}
	}
	q.Ornaments = nil
	for _, o := range r.Ornaments {
		if o.Measure < from || o.Measure >= to {
			continue
		}
		o.Measure -= from
		o.Onset = o.Onset.Sub(start)
		o.Ref.Chord = place[o.Ref.Chord]
		o.Graces = append([]int(nil), o.Graces...)
		for i := range o.Graces {
			o.Graces[i] = place[o.Graces[i]]
		}
		o.endAt(q.Passage.End())
		q.Ornaments = append(q.Ornaments, o)
	}
	q.Questions = nil
	for _, ask := range r.Questions {
		if _, inside := q.Passage.Find(ask.Note); ask.Note == "" || inside {
			q.Questions = append(q.Questions, ask)
		}
	}
	return &q
}

// endAt ends what would sound past the last measure, on notes tied over it.
func (o *Ornament) endAt(end music.Frac) {
	room := end.Sub(o.Onset)
	if o.Notated.Cmp(room) <= 0 {
		return
	}
	o.Notated = room
	choices := o.Choices
	o.Choices = make([]Choice, len(choices))
	for i, c := range choices {
		var notes []Note
		for _, n := range c.Notes {
			if n.Onset.Less(room) {
				n.Dur = n.Dur.Min(room.Sub(n.Onset))
				notes = append(notes, n)
			}
		}
		if len(notes) < len(c.Notes) {
			c.Meetings = nil
		}
		c.Notes, c.Fingering = notes, c.Fingering[:min(len(c.Fingering), len(notes))]
		all := c.Fingerings
		c.Fingerings = make([]Fingering, len(all))
		for k, f := range all {
			f.Fingers = f.Fingers[:min(len(f.Fingers), len(notes))]
			c.Fingerings[k] = f
		}
		o.Choices[i] = c
	}
}
