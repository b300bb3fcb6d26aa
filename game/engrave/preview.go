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
		for _, l := range playedLines(p, one, o.Measure, o.Measure+1, nil) {
			return l.preview()
		}
	}
	return &Layout{}
}

// preview draws a line of one segment by itself, with its clef and key.
func (l *line) preview() *Layout {
	e, seg := l.e, l.segments[0]
	clef := e.clefAt(0, seg.start)
	g := clefGlyph(clef, false)
	x := 0.6 + width(g) + 1 + e.cols[0].notes
	key, keyX := e.p.KeyAt(seg.start), 0.6+width(g)+0.5
	if key.Fifths != 0 {
		x += keyWidth(key, key) + 0.6
	}
	sys := System{From: e.from, To: e.to, Start: seg.start.Float(), End: seg.end.Float()}
	_, natural := e.natural()
	for i := range e.cols {
		x += natural[i]
		sys.columns = append(sys.columns, column{e.cols[i].onset.Float(), x})
	}
	last := &e.cols[len(e.cols)-1]
	right := x + max(last.right[0]+0.8, ideal(seg.end.Sub(last.onset).Float()))
	sys.columns = append(sys.columns, column{sys.End, right})
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
