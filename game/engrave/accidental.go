package engrave

import (
	"slices"

	"agremens/assets/font"
	"agremens/realize/sorting"
)

// accidentalGlyph returns the glyph of a printed accidental.
func accidentalGlyph(word string) (font.Glyph, bool) {
	switch word {
	case "sharp":
		return font.AccidentalSharp, true
	case "flat":
		return font.AccidentalFlat, true
	case "natural":
		return font.AccidentalNatural, true
	case "double-sharp", "sharp-sharp":
		return font.AccidentalDoubleSharp, true
	case "flat-flat", "double-flat":
		return font.AccidentalDoubleFlat, true
	case "natural-sharp":
		return font.AccidentalNaturalSharp, true
	case "natural-flat":
		return font.AccidentalNaturalFlat, true
	}
	return 0, false
}

// parenWidth is how far an accidental's opening parenthesis reaches left of it.
func parenWidth(h *head) float64 {
	if !h.paren {
		return 0
	}
	return width(font.AccidentalParensLeft) + 0.05
}

// placeAccidentals sets the accidentals of everything in a column that stands
// on one staff: outer ones first, each as near the heads as the others allow.
func (e *engraver) placeAccidentals(chords []int, staff int) {
	type entry struct {
		h     *head
		dx    float64 // the chord's shift
		scale float64
	}
	var list []entry
	var taken []Box // y from the staff's middle line
	main := 0.0
	for _, i := range chords {
		c := &e.chords[i]
		for j := range c.heads {
			h := &c.heads[j]
			if h.staff != staff {
				continue
			}
			y := -float64(h.pos) / 2
			left := c.dx + h.dx
			main = min(main, c.dx+min(h.dx, -width(h.glyph)/2*c.scale))
			taken = append(taken, Box{left - accidental, y - 0.5*c.scale, left + width(h.glyph)*c.scale, y + 0.5*c.scale})
			if h.hasAcc {
				list = append(list, entry{h, c.dx, c.accScale()})
			}
		}
	}
	if len(list) == 0 {
		return
	}
	// A unison of two voices prints one accidental.
	sorting.Stable(list, func(a, b entry) int { return b.h.pos - a.h.pos })
	for i := 1; i < len(list); i++ {
		if list[i].h.pos == list[i-1].h.pos && list[i].h.acc == list[i-1].h.acc {
			list[i].h.hasAcc = false
			list = slices.Delete(list, i, i+1)
			i--
		}
	}
	for lo, hi, top := 0, len(list)-1, true; lo <= hi; top = !top {
		en := list[lo]
		if top {
			lo++
		} else {
			en = list[hi]
			hi--
		}
		y := -float64(en.h.pos) / 2
		shape := shapes(en.h, en.scale)
		x := main - accidental*en.scale - shape[0].Right
		for _, s := range shape {
			x = min(x, main-accidental*en.scale-s.Right)
		}
		for moved := true; moved; {
			moved = false
			for _, s := range shape {
				b := s.placed(1, x, y)
				for _, t := range taken {
					if b.Overlaps(t) {
						x = t.Left - s.Right - 1e-6
						b = s.placed(1, x, y)
						moved = true
					}
				}
			}
		}
		for _, s := range shape {
			b := s.placed(1, x, y)
			b.Left -= accToAcc
			taken = append(taken, b)
		}
		en.h.accX = x - en.dx
	}
}

// layers cuts an accidental's box into layers by the corners its SMuFL
// cut-outs leave free; the origin is the glyph's.
func layers(h *head, scale float64) []Box {
	b := font.Bounds(h.acc)
	full := Box{float64(b.Left), float64(b.Top), float64(b.Right), float64(b.Bottom)}
	cut := func(kind font.AnchorKind) (font.Point, bool) { return font.Anchor(h.acc, kind) }
	ys := []float64{full.Top, full.Bottom}
	nw, okNW := cut(font.CutOutNW)
	ne, okNE := cut(font.CutOutNE)
	sw, okSW := cut(font.CutOutSW)
	se, okSE := cut(font.CutOutSE)
	for _, p := range []struct {
		at font.Point
		ok bool
	}{{nw, okNW}, {ne, okNE}, {sw, okSW}, {se, okSE}} {
		if p.ok {
			ys = append(ys, float64(p.at.Y))
		}
	}
	slices.Sort(ys)
	var out []Box
	for i := 1; i < len(ys); i++ {
		if ys[i]-ys[i-1] < 1e-6 {
			continue
		}
		s := Box{full.Left, ys[i-1], full.Right, ys[i]}
		mid := (s.Top + s.Bottom) / 2
		if okNW && mid < float64(nw.Y) {
			s.Left = max(s.Left, float64(nw.X))
		}
		if okSW && mid > float64(sw.Y) {
			s.Left = max(s.Left, float64(sw.X))
		}
		if okNE && mid < float64(ne.Y) {
			s.Right = min(s.Right, float64(ne.X))
		}
		if okSE && mid > float64(se.Y) {
			s.Right = min(s.Right, float64(se.X))
		}
		out = append(out, s)
	}
	if h.paren {
		p := parenWidth(h)
		for i := range out {
			out[i].Left, out[i].Right = full.Left-p, full.Right+p
		}
	}
	for i := range out {
		out[i] = out[i].placed(scale, 0, 0)
	}
	return out
}

// drawAccidental draws a head's accidental, if it has one.
func (e *engraver) drawAccidental(c *chord, i int) {
	h := &c.heads[i]
	if !h.hasAcc {
		return
	}
	x, y, id, scale := c.x+h.accX, e.headY(h), c.src.Notes[i].ID, c.accScale()
	e.ofChord(c, h.staff, h.acc, x, y, scale, id)
	for _, b := range layers(h, scale) {
		e.hurdle(b.placed(1, x, y), signHurdle)
	}
	if h.paren {
		b := font.Bounds(h.acc)
		pw := width(font.AccidentalParensLeft) * scale
		e.ofChord(c, h.staff, font.AccidentalParensLeft, x+float64(b.Left)*scale-pw-0.05, y, scale, id)
		e.ofChord(c, h.staff, font.AccidentalParensRight, x+float64(b.Right)*scale+0.05, y, scale, id)
	}
}
