package engrave

import (
	"sort"

	"agremens/assets/font"
	"agremens/realize/music"
)

// colAt returns the column at an onset, or the one after it.
func (e *engraver) colAt(onset music.Frac) *col {
	i := sort.Search(len(e.cols), func(i int) bool { return e.cols[i].onset.Cmp(onset) >= 0 })
	return &e.cols[min(i, len(e.cols)-1)]
}

// drawColumns draws the columns lo to hi and everything between them. The
// order matters: each pass keeps clear of what the passes before it drew.
func (e *engraver) drawColumns(lo, hi int, signatures float64) {
	var list []int
	for i := lo; i < hi; i++ {
		k := &e.cols[i]
		e.drawBlock(k, signatures)
		list = append(list, k.after...)
		list = append(list, k.graces...)
		list = append(list, k.chords...)
	}
	groups := e.groupsOf(list)
	for _, i := range list {
		e.setTip(&e.chords[i])
	}
	for _, g := range groups {
		e.shape(g)
		for _, i := range g.chords {
			e.tipOnBeam(&e.chords[i], g)
		}
	}
	for i := lo; i < hi; i++ {
		k := &e.cols[i]
		for _, set := range [][]int{k.after, k.graces, k.chords} {
			for _, j := range set {
				e.drawChord(&e.chords[j], k)
			}
		}
	}
	for _, g := range groups {
		e.drawBeams(g)
	}
	for i := lo; i < hi; i++ {
		k := &e.cols[i]
		for _, j := range k.chords {
			if c := &e.chords[j]; c.rest() {
				e.drawRest(c, k)
			}
		}
	}
	e.drawTies(list)
	for _, i := range list {
		e.drawClose(&e.chords[i])
	}
	e.drawTuplets(list)
	e.sortHurdles()
	e.drawSlurs(list)
	for _, i := range list {
		e.drawArpeggio(&e.chords[i])
		e.drawFingering(&e.chords[i])
		e.drawFar(&e.chords[i])
	}
	e.drawSigns(list)
	for _, i := range list {
		e.drawFermata(&e.chords[i])
	}
}

func (e *engraver) groupsOf(list []int) []*group {
	var out []*group
	seen := map[int]bool{}
	for _, i := range list {
		if g := e.chords[i].group; g >= 0 && !seen[g] {
			seen[g] = true
			out = append(out, &e.groups[g])
		}
	}
	return out
}

func (e *engraver) drawChord(c *chord, k *col) {
	if c.rest() {
		return
	}
	e.drawLedgers(c)
	for i := range c.heads {
		h := &c.heads[i]
		id := c.src.Notes[i].ID
		b := e.chordGlyph(c, h.staff, h.glyph, c.x+h.dx-float64(font.Bounds(h.glyph).Left)*c.scale, e.headY(h), id)
		e.hurdle(Box{b.Left + 0.15*c.scale, b.Top + 0.05, b.Right - 0.15*c.scale, b.Bottom - 0.05}, headHurdle)
		e.drawAccidental(c, i)
		spot := Spot{Note: id, Index: -1, Onset: c.src.Onset.Float(), Box: b}
		if c.grace() || e.played {
			spot.Ornament = c.ornament
		}
		if e.played {
			spot.Index = e.playedIndex[c.index]
		}
		e.out.spots = append(e.out.spots, spot)
	}
	e.drawStem(c)
	e.drawDots(c, k)
}

// staffLines returns the lines of the first staff's kind at y 0.
func (e *engraver) staffLines(left, right float64) []Item {
	items := make([]Item, 0, 5)
	for i := -2; i <= 2; i++ {
		items = append(items, Item{Kind: KindLine, Layer: LayerStaff, X: left, Y: float64(i), X2: right, Y2: float64(i),
			W: float32(font.Defaults.StaffLineThickness)})
	}
	return items
}

// drawStaffLines draws every staff's lines.
func (e *engraver) drawStaffLines(left, right float64) {
	for s := range e.staves {
		for _, it := range e.staffLines(left, right) {
			e.out.items = append(e.out.items, it.placed(1, 0, e.staves[s].y))
		}
	}
}

// text draws a line of text with its baseline at y and returns its extent.
func (e *engraver) text(style font.Style, s string, x, y, size float64) Box {
	w := font.Set(style, s, size, func(g font.Glyph, dx, dy, scale float64) {
		e.draw(Item{Kind: KindGlyph, Glyph: g, X: x + dx, Y: y + dy, Scale: float32(scale)})
	})
	return Box{x, y - size*0.7, x + w, y + size*0.22}
}
