package engrave

import (
	"agremens/assets/font"
	"agremens/realize/music"
	"agremens/realize/score"
)

// dashes are the strokes after "cresc." and the like, in one system.
type dashes struct {
	mark   score.Mark
	x0, x1 float64
	y      float64 // of the line of the words it follows
	placed bool
}

// Dashes stand at half the height of small letters; each is a space long.
const (
	dashHeight = wordSize * 0.2
	dashLength = 1.0
	dashStep   = 2.2
)

// findDashes lists the strokes between two onsets.
func (e *engraver) findDashes(from, to music.Frac, span func(score.Mark) (x0, x1 float64)) {
	e.dashes = e.dashes[:0]
	for _, m := range e.p.Marks {
		if m.Kind != score.Dashes || !m.Onset.Less(to) || m.End.Cmp(from) <= 0 {
			continue
		}
		m.Staff = min(max(m.Staff, 1), len(e.staves))
		x0, x1 := span(m)
		e.dashes = append(e.dashes, dashes{mark: m, x0: x0, x1: x1})
	}
}

// dashesOf finds the strokes that follow words: the first on their staff that
// begin with them or less than a bar later. nil is none.
func (e *engraver) dashesOf(m score.Mark) *dashes {
	for i := range e.dashes {
		d := &e.dashes[i]
		if late := d.mark.Onset.Sub(m.Onset); !d.placed && d.mark.Staff == m.Staff && late.Sign() >= 0 && late.Less(e.p.Measures[e.p.MeasureAt(m.Onset)].Length) {
			return d
		}
	}
	return nil
}

// end is how far the strokes reach to the right, 0 where there are none.
func (d *dashes) end() float64 {
	if d == nil {
		return 0
	}
	return d.x1
}

// follow puts the strokes behind words that end at x.
func (d *dashes) follow(x, y float64) {
	if d != nil {
		d.x0, d.y, d.placed = max(d.x0, x+0.6), y, true
	}
}

// drawDashes draws the strokes; what goes on from the system before stands by
// itself.
func (e *engraver) drawDashes() {
	for i := range e.dashes {
		d := &e.dashes[i]
		s := d.mark.Staff - 1
		if !d.placed {
			d.y = e.beside(s, d.mark.Above, d.x0, max(d.x1, d.x0+dashLength), dashHeight, 0, 0.5)
		}
		w := font.Defaults.HairpinThickness
		for x := d.x0; x+dashLength/2 <= d.x1; x += dashStep {
			e.line(x, d.y-dashHeight, min(x+dashLength, d.x1), d.y-dashHeight, w)
		}
		if d.x0 < d.x1 {
			e.cover(s, Box{d.x0, d.y - dashHeight - w, d.x1, d.y})
		}
	}
}
