package engrave

import (
	"agremens/assets/font"
	"agremens/realize/music"
	"agremens/realize/score"
)

// engraver holds one layout in the making: one passage (the printed one, or
// the played line written as a passage), in its own staff spaces.
type engraver struct {
	p           *score.Passage
	from, to    int // measures
	staves      []staff
	chords      []chord
	byIndex     []int // place in chords of each of p.Chords in range, -1 for hidden ones
	first       int   // index in p.Chords of byIndex[0]
	cols        []col
	groups      []group
	lines       []*line        // as played, above the staves
	clefs       [][]score.Clef // by staff, in order
	ottavas     []score.Mark
	dashes      []dashes       // of the system that is drawn
	ornament    map[int]string // chord index in p.Chords → ornament
	layer       Layer
	played      bool
	metreShown  bool                        // the metre is printed at the start
	playedIndex map[int]int                 // chord index → note of the choice
	x           func(onset float64) float64 // of a column, by quarters
	dropped     float64                     // how far the drawing was moved down
	hurdles     []hurdle                    // of the system that is drawn
	crossing    []Box                       // its stems and beams that cross from staff to staff
	around      []hurdle                    // those near one curve
	out         sink
	pause       func() // see yield; may be nil
}

// staff is one staff of the engraver.
type staff struct {
	y   float64 // of the middle line
	sky skyline // relative to y
}

// sink collects what is drawn.
type sink struct {
	items []Item
	spots []Spot
}

// newEngraver makes the columns of some measures. yield is called between the
// pieces of the work.
func newEngraver(p *score.Passage, from, to int, ornament map[int]string, yield func()) *engraver {
	e := &engraver{p: p, from: from, to: to, ornament: ornament, layer: LayerInk, pause: yield}
	n := max(1, p.Staves)
	e.staves = make([]staff, n)
	e.clefs = make([][]score.Clef, n)
	for _, c := range p.Clefs {
		if s := c.Staff - 1; s >= 0 && s < n {
			e.clefs[s] = append(e.clefs[s], c)
		}
	}
	for _, m := range p.Marks {
		if m.Kind == score.OctaveShift {
			e.ottavas = append(e.ottavas, m)
		}
	}
	e.prepare()
	return e
}

// yield lets a caller that shares its thread do something else.
func (e *engraver) yield() {
	if e.pause != nil {
		e.pause()
	}
}

// prepare makes chords, stems, beams and columns of what is written.
func (e *engraver) prepare() {
	for _, step := range []func(){e.build, e.direct, e.group, e.columns} {
		step()
		e.yield()
	}
}

// start and end return the extent in quarters.
func (e *engraver) start() music.Frac { return e.p.Measures[e.from].Onset }
func (e *engraver) end() music.Frac   { return e.p.Measures[e.to-1].End() }

// clefAt returns the clef in force on a staff at an onset.
func (e *engraver) clefAt(staff int, onset music.Frac) score.Clef {
	c := score.Clef{Staff: staff + 1, Sign: "G", Line: 2}
	if staff > 0 {
		c = score.Clef{Staff: staff + 1, Sign: "F", Line: 4}
	}
	list := e.clefs[staff]
	lo, hi := 0, len(list)
	for lo < hi {
		if mid := (lo + hi) / 2; list[mid].Onset.Cmp(onset) <= 0 {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo > 0 {
		c = list[lo-1]
	}
	return c
}

// middle returns the letter-name count (see [music.Pitch.Diatonic]) of a
// clef's middle line.
func middle(c score.Clef) int {
	ref := map[string]int{"G": 32, "F": 24, "C": 28}[c.Sign]
	if ref == 0 {
		ref = 32
	}
	line := c.Line
	if line == 0 {
		line = map[string]int{"G": 2, "F": 4, "C": 3}[c.Sign]
	}
	return ref - (line-3)*2 + 7*c.Octave
}

// position returns the staff position of a pitch: 0 on the middle line, one
// more for each letter name up.
func (e *engraver) position(p music.Pitch, staff int, onset music.Frac) int {
	pos := p.Diatonic() - middle(e.clefAt(staff, onset))
	for i := range e.ottavas {
		if m := &e.ottavas[i]; m.Staff == staff+1 && m.Onset.Cmp(onset) <= 0 && onset.Less(m.End) {
			pos -= 7 * octaves(m.Size)
		}
	}
	return pos
}

// octaves returns how many octaves above the written notes a line sounds.
func octaves(size int) int {
	switch {
	case size >= 15:
		return 2
	case size > 0:
		return 1
	case size <= -15:
		return -2
	case size < 0:
		return -1
	}
	return 0
}

func (e *engraver) draw(it Item) *Item {
	if it.Layer == 0 {
		it.Layer = e.layer
	}
	e.out.items = append(e.out.items, it)
	return &e.out.items[len(e.out.items)-1]
}

// glyph draws a glyph and returns its extent.
func (e *engraver) glyph(g font.Glyph, x, y, scale float64, note score.ID) Box {
	it := e.draw(Item{Kind: KindGlyph, Glyph: g, X: x, Y: y, Scale: float32(scale), Note: note})
	return it.Bounds()
}

// onStaff draws a glyph at an absolute place and takes it into a staff's skyline.
func (e *engraver) onStaff(s int, g font.Glyph, x, y, scale float64, note score.ID) Box {
	b := e.glyph(g, x, y, scale, note)
	e.cover(s, b)
	return b
}

func (e *engraver) line(x, y, x2, y2, w float64) Box {
	it := e.draw(Item{Kind: KindLine, X: x, Y: y, X2: x2, Y2: y2, W: float32(w)})
	return it.Bounds()
}

// cover takes an absolute box into a staff's skyline.
func (e *engraver) cover(s int, b Box) {
	st := &e.staves[s]
	st.sky.add(Box{b.Left, b.Top - st.y, b.Right, b.Bottom - st.y})
}

// above returns the absolute y above everything drawn on staff s.
func (e *engraver) above(s int, x0, x1 float64) float64 {
	return e.staves[s].y + e.staves[s].sky.above(x0, x1)
}

func (e *engraver) below(s int, x0, x1 float64) float64 {
	return e.staves[s].y + e.staves[s].sky.below(x0, x1)
}

func width(g font.Glyph) float64 {
	b := font.Bounds(g)
	return float64(b.Right - b.Left)
}
