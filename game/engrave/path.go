package engrave

import "math"

// Paths returns what a layout draws as outlines in the path language of SVG,
// for a small picture of one colour; each is to be filled by itself. Where
// many pictures share a page this needs no names, as [SVG]'s glyphs do.
func Paths(l *Layout) []string {
	var glyphs, bars pen
	var out []string
	for i := range l.Items {
		it := &l.Items[i]
		if it.Kind == KindGlyph {
			glyphs.glyph(it)
			continue
		}
		if it.Kind == KindCurve {
			var p pen
			a := it.Band()
			p.to('M', a[0])
			p.to('C', a[1], a[2], a[3])
			p.to('L', a[4])
			p.to('C', a[5], a[6], a[7])
			p = append(p, 'Z')
			out = append(out, string(p))
			continue
		}
		if c, ok := it.corners(); ok {
			bars.polygon(c)
		}
	}
	for _, p := range []pen{bars, glyphs} {
		if len(p) > 0 {
			out = append(out, string(p))
		}
	}
	return out
}

// corners returns the outline of a line, rectangle or beam; ok is false for
// other kinds and for a line without length.
func (it *Item) corners() (c [4]XY, ok bool) {
	switch it.Kind {
	case KindLine:
		dx, dy := it.X2-it.X, it.Y2-it.Y
		n := math.Hypot(dx, dy)
		if n == 0 {
			return c, false
		}
		nx, ny := -dy/n*float64(it.W)/2, dx/n*float64(it.W)/2
		return [4]XY{{it.X + nx, it.Y + ny}, {it.X2 + nx, it.Y2 + ny}, {it.X2 - nx, it.Y2 - ny}, {it.X - nx, it.Y - ny}}, true
	case KindRect:
		return [4]XY{{it.X, it.Y}, {it.X2, it.Y}, {it.X2, it.Y2}, {it.X, it.Y2}}, true
	case KindBeam:
		w := float64(it.W)
		return [4]XY{{it.X, it.Y}, {it.X2, it.Y2}, {it.X2, it.Y2 + w}, {it.X, it.Y + w}}, true
	}
	return c, false
}
