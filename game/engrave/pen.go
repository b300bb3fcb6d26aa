package engrave

import "agremens/assets/font"

// pen writes outlines in the path language of SVG.
type pen []byte

func (p *pen) to(op byte, points ...XY) {
	*p = append(*p, op)
	for i, at := range points {
		if i > 0 {
			*p = append(*p, ' ')
		}
		*p = append(*p, num(at.X)...)
		*p = append(*p, ' ')
		*p = append(*p, num(at.Y)...)
	}
}

// polygon closes four corners, always the same way round: overlapping ones
// must not cancel each other.
func (p *pen) polygon(c [4]XY) {
	area := 0.0
	for i := range c {
		d := c[(i+1)%4]
		area += c[i].X*d.Y - d.X*c[i].Y
	}
	if area < 0 {
		c[1], c[3] = c[3], c[1]
	}
	p.to('M', c[0])
	for _, at := range c[1:] {
		p.to('L', at)
	}
	*p = append(*p, 'Z')
}

// glyph writes the outline of a glyph where the item has it.
func (p *pen) glyph(it *Item) {
	s := float64(it.Scale)
	at := func(q font.Point) XY { return XY{it.X + float64(q.X)*s, it.Y + float64(q.Y)*s} }
	open := false
	for _, seg := range font.Outline(it.Glyph) {
		switch seg.Op {
		case font.Move:
			if open {
				*p = append(*p, 'Z')
			}
			p.to('M', at(seg.P[0]))
		case font.Line:
			p.to('L', at(seg.P[0]))
		case font.Quad:
			p.to('Q', at(seg.P[0]), at(seg.P[1]))
		case font.Cubic:
			p.to('C', at(seg.P[0]), at(seg.P[1]), at(seg.P[2]))
		}
		open = true
	}
	if open {
		*p = append(*p, 'Z')
	}
}
