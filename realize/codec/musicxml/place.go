package musicxml

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// place puts a note that was read where the cursor stands: into the last
// chord, or as a chord of its own.
func (p *part) place(w *written) error {
	if !w.pitched && !w.rest && !w.unusable {
		p.warn("notes without a pitch (percussion) were left out")
	}
	if w.joins && p.last >= 0 && !w.rest {
		if !w.pitched {
			return nil
		}
		p.join(p.last, w)
		return p.attach(p.last, w)
	}
	if w.joins && !p.lost.IsZero() {
		p.now = p.now.Sub(p.lost) // the chord's first note was left out
	}
	p.lost = music.Frac{}
	if w.chord.Grace == nil {
		if err := p.length(w); err != nil {
			return err
		}
		if w.dur.IsZero() {
			return nil
		}
	}
	if !w.pitched && !w.rest {
		p.last, p.lost = -1, w.dur
		return p.step(w.dur)
	}
	c := chord{Chord: w.chord, after: -1}
	c.Measure, c.Onset, c.Dur, c.division = len(p.measures)-1, p.now, w.dur, p.division
	if p.follows {
		c.after = len(p.chords) - 1
	}
	if w.rest {
		c.Hidden = w.hidden
		if w.restStep >= 0 {
			c.RestPos = &music.Pitch{Step: music.Step(w.restStep), Octave: int8(w.restOctave)}
		}
		p.wholeRest(&c, w)
	}
	fillValue(&c.Value, c.Dur)
	plainValue(&c.Value, c.Dur)
	p.staves = max(p.staves, c.Staff)
	p.chords = append(p.chords, c)
	i := len(p.chords) - 1
	p.last, p.follows = -1, true
	if w.pitched {
		p.last = i
		p.chords[i].Signs = nil // joined with the note they stand on
		p.join(i, w)
	}
	if err := p.attach(i, w); err != nil {
		return err
	}
	return p.step(w.dur)
}

// join adds a note to a chord.
func (p *part) join(i int, w *written) {
	c := &p.chords[i]
	n := w.note
	if p.d.ids[n.ID] {
		n.ID = "" // used before: a new one is made in the end
	}
	if n.ID != "" {
		p.d.ids[n.ID] = true
	}
	n.Staff = w.chord.Staff
	p.staves = max(p.staves, n.Staff)
	if p.transposes() {
		n.Accidental = "" // the written one is wrong at concert pitch
	}
	at := len(c.Notes)
	c.Notes = append(c.Notes, n)
	c.hidden = append(c.hidden, w.hidden)
	for _, s := range w.chord.Signs {
		s.Note = at
		c.Signs = append(c.Signs, s)
	}
	if at == 0 {
		return
	}
	// What belongs to the whole chord may be stored on any of its notes.
	c.Artic = append(c.Artic, w.chord.Artic...)
	c.Fermata = c.Fermata || w.chord.Fermata
	if c.Arpeggio == "" {
		c.Arpeggio, c.ArpeggioDirected = w.chord.Arpeggio, w.chord.ArpeggioDirected
	}
	if c.Stem == score.StemAuto {
		c.Stem = w.chord.Stem
	}
}

// plainValue drops a tuplet ratio that the length contradicts: some files
// write one on notes with tremolo strokes that last their full value.
func plainValue(v *score.Value, dur music.Frac) {
	w := *v
	w.Actual, w.Normal = 0, 0
	if v.Actual > 0 && w.Quarters() == dur && v.Quarters() != dur {
		*v = w
	}
}

// fillValue derives a missing written value from the length.
func fillValue(v *score.Value, dur music.Frac) {
	if v.Type != score.Unspecified || dur.IsZero() {
		return
	}
	for dots := 0; dots <= 3; dots++ {
		for t := score.Long; t <= score.N256th; t++ {
			w := score.Value{Type: t, Dots: dots, Actual: v.Actual, Normal: v.Normal}
			if w.Quarters() == dur {
				*v = w
				return
			}
		}
	}
}
