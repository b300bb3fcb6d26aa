package stage

// packer places rectangles in a square, in rows.
type packer struct {
	size          int
	x, y, rowTall int
}

// place returns the corner of a free rectangle; ok is false when the square
// is full. Around every rectangle one pixel stays empty, so that filtering
// mixes no neighbour in.
func (p *packer) place(width, height int) (x, y int, ok bool) {
	width, height = width+1, height+1
	if p.x+width > p.size {
		p.x, p.y, p.rowTall = 0, p.y+p.rowTall, 0
	}
	if p.x+width > p.size || p.y+height > p.size {
		return 0, 0, false
	}
	x, y = p.x+1, p.y+1
	if x+width > p.size || y+height > p.size {
		return 0, 0, false
	}
	p.x += width
	p.rowTall = max(p.rowTall, height)
	return x, y, true
}
