package engrave

import (
	"agremens/assets/font"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
)

// Preview draws one choice of an ornament alone on a staff of its own, spaced
// for reading, so that the choices can be shown side by side. It is empty for an ornament or choice the reading does not have.
func Preview(p *score.Passage, r *realize.Reading, ornament string, choice int) *Layout {
	for i := range r.Ornaments {
		o := r.Ornaments[i]
		if o.ID != ornament || choice < 0 || choice >= len(o.Choices) {
			continue
		}
		o.Chosen = choice
		one := &realize.Reading{Passage: p, Ornaments: []realize.Ornament{o}}
		for _, l := range playedLines(p, one, o.Measure, o.Measure+1, nil, nil, func() {}) {
			return l.e.alone(l.segments[0].start, l.segments[0].end)
		}
	}
	return &Layout{}
}

// Printed draws what is printed of an ornament, its note with the sign and the
// small notes, alone on a staff of its own. It is empty for an ornament the
// reading does not have.
func Printed(p *score.Passage, r *realize.Reading, ornament string) *Layout {
	for i := range r.Ornaments {
		if o := &r.Ornaments[i]; o.ID == ornament && o.Ref.Chord < len(p.Chords) {
			return printed(p, o)
		}
	}
	return &Layout{}
}

func printed(p *score.Passage, o *realize.Ornament) *Layout {
	q := &score.Passage{Staves: 1, Measures: p.Measures}
	for _, c := range p.Clefs {
		if c.Staff == o.Staff {
			c.Staff = 1
			q.Clefs = append(q.Clefs, c)
		}
	}
	if len(q.Clefs) == 0 && o.Staff > 1 {
		q.Clefs = []score.Clef{{Staff: 1, Sign: "F", Line: 4}}
	}
	take := func(i int) {
		c := p.Chords[i]
		c.Staff, c.Voice, c.Beams, c.Stem, c.Artic, c.Hidden = 1, "1", nil, score.StemAuto, nil, false
		c.Notes = append([]score.Note(nil), c.Notes...)
		for j := range c.Notes {
			c.Notes[j].Staff, c.Notes[j].TieStart, c.Notes[j].TieStop, c.Notes[j].Fingering = 0, false, false, ""
		}
		q.Chords = append(q.Chords, c)
	}
	ornament := map[int]string{}
	for _, g := range o.Graces {
		if g < o.Ref.Chord {
			take(g)
		}
	}
	take(o.Ref.Chord)
	end := p.Chords[o.Ref.Chord].End()
	for _, g := range o.Graces {
		if g > o.Ref.Chord {
			take(g)
		}
	}
	for i := range q.Chords {
		ornament[i] = o.ID
	}
	e := &engraver{p: q, from: o.Measure, to: o.Measure + 1, ornament: ornament, layer: LayerInk, played: true}
	e.staves = make([]staff, 1)
	e.clefs = [][]score.Clef{q.Clefs}
	e.build()
	e.direct()
	e.group()
	e.columns()
	return e.alone(o.Onset, end)
}

// alone draws all columns by themselves, with clef and key.
func (e *engraver) alone(start, end music.Frac) *Layout {
	clef := e.clefAt(0, start)
	g := clefGlyph(clef, false)
	x := 0.6 + width(g) + 1 + e.cols[0].notes
	key, keyX := e.p.KeyAt(start), 0.6+width(g)+0.5
	if key.Fifths != 0 {
		x += keyWidth(key, key) + 0.6
	}
	sys := System{From: e.from, To: e.to, Start: start.Float(), End: end.Float()}
	_, natural := e.natural()
	for i := range e.cols {
		x += natural[i]
		sys.columns = append(sys.columns, column{e.cols[i].onset.Float(), x})
	}
	last := &e.cols[len(e.cols)-1]
	right := x + max(last.right[0]+0.8, ideal(end.Sub(last.onset).Float()))
	if last.onset.Less(end) { // small notes may close at the end itself
		sys.columns = append(sys.columns, column{sys.End, right})
	}
	sys.Right = right
	e.staves[0].y = 2
	e.staves[0].sky = newSkyline(-2, right+4)
	e.drawStaffLines(0, right)
	e.onStaff(0, g, 0.6-float64(font.Bounds(g).Left), e.staves[0].y+clefY(clef), 1, "")
	if key.Fifths != 0 {
		e.drawKey(0, key, music.Key{}, clef, keyX, 1)
	}
	e.place(sys.at)
	e.drawColumns(0, len(e.cols), 1)
	out := &Layout{}
	out.collect(e, &sys)
	return out
}
