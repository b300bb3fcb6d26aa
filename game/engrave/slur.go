package engrave

import (
	"math"

	"agremens/assets/font"
	"agremens/realize/music"
	"agremens/realize/score"
)

// tieArc is the shape of a tie.
func tieArc(x0, y, x1, height float64) arc {
	h := height * 4 / 3
	return arc{x0, y, x1, y, (x1 - x0) * 0.25, h, h}
}

// slur draws a slur.
func (e *engraver) slur(s int, a arc, side float64, note score.ID, dashed bool) *Item {
	it := e.curve(s, a, side, font.Defaults.SlurEndpointThickness, font.Defaults.SlurMidpointThickness, note)
	if !dashed {
		return it
	}
	// In the place of the whole curve its dashes, as wide as its middle.
	whole := *it
	e.out.items = e.out.items[:len(e.out.items)-1]
	n := max(2, int((whole.X2-whole.X)/1.6))
	for i := range n {
		it = e.draw(whole.part((float64(i)+0.05)/float64(n), (float64(i)+0.65)/float64(n)))
		it.W, it.W2 = float32(font.Defaults.SlurMidpointThickness*0.7), float32(font.Defaults.SlurMidpointThickness*0.7)
	}
	return it
}

// curve draws an arc and takes it into the skyline of a staff.
func (e *engraver) curve(s int, a arc, side, end, mid float64, note score.ID) *Item {
	shape := a.curve(side)
	shape.Note, shape.W, shape.W2 = note, float32(mid), float32(end)
	it := e.draw(shape)
	n := min(40, max(4, int((a.x1-a.x0)*2)))
	px, py := a.x0, a.y0
	for i := 1; i <= n; i++ {
		x, y := it.curve(float64(i) / float64(n))
		e.cover(s, Box{px, min(py, y) - mid/2, x, max(py, y) + mid/2})
		px, py = x, y
	}
	return it
}

// lastBar returns the x just before the bar line that ends the range, where
// curves that go on in the next system end.
func (e *engraver) lastBar() float64 {
	k := &e.cols[len(e.cols)-1]
	return k.x - blackHead()/2 - e.barWidth(k) - 0.35
}

// firstFree returns the x from which curves that come from the system before
// may begin: behind clef and signatures.
func (e *engraver) firstFree() float64 {
	k := &e.cols[0]
	if e.played {
		return math.Inf(-1)
	}
	return k.x - max(1.1, k.notes+0.35) - 0.55
}

type tieEnd struct {
	pitch music.Pitch
	at    music.Frac
}

// drawTies joins tied heads. Ends outside the range hang open.
func (e *engraver) drawTies(list []int) {
	e.sortHurdles()
	open := map[tieEnd][][2]int{}
	for _, i := range list {
		c := &e.chords[i]
		for j := range c.heads {
			n := &c.src.Notes[j]
			if n.TieStop {
				key := tieEnd{n.Pitch, c.src.Onset}
				ends := open[key]
				pick := -1
				for k, o := range ends {
					if pick < 0 || e.chords[o[0]].src.Voice == c.src.Voice {
						pick = k
					}
				}
				if pick >= 0 {
					from := ends[pick]
					open[key] = append(ends[:pick:pick], ends[pick+1:]...)
					e.drawTie(from[0], from[1], i, j)
				} else if !c.grace() {
					e.drawTie(-1, 0, i, j)
				}
			}
			if n.TieStart {
				key := tieEnd{n.Pitch, c.src.End()}
				open[key] = append(open[key], [2]int{i, j})
			}
		}
	}
	for _, i := range list { // in order, not the map's
		for j := range e.chords[i].heads {
			if n := &e.chords[i].src.Notes[j]; n.TieStart {
				for _, o := range open[tieEnd{n.Pitch, e.chords[i].src.End()}] {
					if o == [2]int{i, j} {
						e.drawTie(i, j, -1, 0)
					}
				}
			}
		}
	}
}

func (e *engraver) drawTie(i, j, i2, j2 int) {
	const overhang = 2.2
	ci, cj := i, j
	if i < 0 {
		ci, cj = i2, j2
	}
	c := &e.chords[ci]
	h := &c.heads[cj]
	dir := tieSide(c, cj)
	var x0, x1 float64
	if i >= 0 {
		x0 = c.x + h.dx + width(h.glyph)*c.scale
	}
	if i2 >= 0 {
		d := &e.chords[i2]
		g := &d.heads[j2]
		x1 = d.x + g.dx
		if i < 0 {
			x0 = max(x1-overhang, e.firstFree())
		}
	} else {
		x1 = max(x0+1, e.lastBar()) // the line as played has no bar lines
	}
	height := func(x0, x1 float64) float64 { return min(1, 0.28+(x1-x0)*0.055) }
	// Over its heads, or from edge to edge, nearer the heads' middle.
	over := func(dir float64) arc {
		return wide(tieArc(x0-0.3, e.headY(h)-dir*0.62, x1+0.3, height(x0, x1)))
	}
	between := func(dir, off float64) arc {
		return wide(tieArc(x0+0.12, e.headY(h)-dir*off, x1-0.12, height(x0, x1)))
	}
	first := over(dir)
	if len(c.heads) > 1 || x1-x0 > 3 && dir == float64(-c.dir) {
		first = between(dir, 0.4)
	}
	a, dir := e.clearest(first, dir, func(try func(a arc, side, cost float64)) {
		for _, side := range [2]float64{dir, -dir} {
			cost := 0.0
			if side != dir {
				cost = 3
			}
			for _, a := range [4]arc{between(side, 0.4), over(side), between(side, 0.15), between(side, 0.75)} {
				for _, more := range [5]float64{1, 0.6, 1.5, 2.2, 3} {
					b := a
					b.left, b.right = a.left*more, a.right*more
					try(b, side, cost+0.1+math.Abs(more-1)*0.3)
					t := b
					t.x0, t.x1 = e.trims(b, b.left)
					t.lean = (t.x1 - t.x0) * 0.25
					try(t, side, cost+0.5+math.Abs(more-1)*0.3)
				}
			}
		}
	})
	e.curve(h.staff, a, dir, font.Defaults.TieEndpointThickness, font.Defaults.TieMidpointThickness, c.src.Notes[cj].ID)
}

// wide gives a tie a least width.
func wide(a arc) arc {
	if a.x1-a.x0 < 0.9 {
		m := (a.x0 + a.x1) / 2
		a.x0, a.x1 = m-0.45, m+0.45
	}
	return a
}

// tieSide returns 1 for a tie above the head, -1 below.
func tieSide(c *chord, j int) float64 {
	if c.voice == 1 {
		return 1
	}
	if c.voice == 2 {
		return -1
	}
	if n := len(c.heads); n > 1 {
		switch {
		case j*2 > n-1:
			return 1
		case j*2 < n-1:
			return -1
		}
	}
	if c.dir > 0 || c.dir == 0 && c.heads[j].pos < 0 {
		return -1
	}
	return 1
}

// drawSlurs draws the slurs that have both ends in the list, and halves of
// those that go beyond it.
func (e *engraver) drawSlurs(list []int) {
	if len(list) == 0 {
		return
	}
	in := map[int]bool{}
	for _, i := range list {
		in[i] = true
	}
	place := func(index int) int {
		at := index - e.first
		if at < 0 || at >= len(e.byIndex) || e.byIndex[at] < 0 || !in[e.byIndex[at]] {
			return -1
		}
		return e.byIndex[at]
	}
	last := e.first + len(e.byIndex) - 1
	for _, s := range e.p.Slurs {
		if s.To < e.first || s.From > last {
			continue
		}
		from, to := place(s.From), place(s.To)
		switch {
		case from >= 0 && to >= 0 && from != to:
			e.drawSlur(from, to, s)
		case from >= 0 && s.To > last:
			e.drawHalfSlur(from, s, true)
		case to >= 0 && s.From < e.first:
			e.drawHalfSlur(to, s, false)
		case s.From < e.first && s.To > last && !e.played:
			e.drawMiddle(s)
		}
	}
}

// drawHalfSlur draws the part of a slur that goes on past the end of a
// system, or comes from the one before.
func (e *engraver) drawHalfSlur(i int, s score.Slur, onward bool) {
	c := &e.chords[i]
	side := e.slurSide(i, i, s)
	x, y := e.slurEnd(c, side)
	edge := e.lastBar()
	if !onward {
		edge = max(e.cols[0].x-e.cols[0].notes-0.6, e.firstFree())
	}
	x0, x1 := min(x, edge), max(x, edge)
	if x1-x0 < 1.2 {
		if onward {
			x1 = x0 + 1.2
		} else {
			x0 = x1 - 1.2
		}
	}
	a := e.slurArc(c.staff, x0, y, x1, y, min(2, 0.5+(x1-x0)*0.05), side)
	a, side = e.clearest(a, side, bends(a, side, y, y))
	e.slur(c.staff, a, side, c.note(), s.Dashed)
}

// drawMiddle draws the part of a slur that comes from the system before and goes
// on in the next: over everything, from clef to bar line.
func (e *engraver) drawMiddle(s score.Slur) {
	from := &e.p.Chords[s.From]
	staff := min(max(from.Staff, 1), len(e.staves)) - 1
	side, ink := 1.0, e.above
	if s.Placed && !s.Above {
		side, ink = -1, e.below
	}
	const end = 2.0 // how far in an end looks for something to keep off
	x0, x1 := max(e.cols[0].x-e.cols[0].notes-0.6, e.firstFree()), e.lastBar()
	if x1-x0 < 2*end {
		return
	}
	y0, y1 := ink(staff, x0, x0+end)-side*0.6, ink(staff, x1-end, x1)-side*0.6
	a := e.slurArc(staff, x0, y0, x1, y1, 1.5, side)
	a, side = e.clearest(a, side, bends(a, side, y0, y1))
	e.slur(staff, a, side, "", s.Dashed)
}

func (e *engraver) slurSide(from, to int, s score.Slur) float64 {
	a := &e.chords[from]
	if s.Placed {
		if s.Above {
			return 1
		}
		return -1
	}
	if a.grace() {
		return float64(-a.dir) // away from the small stem
	}
	switch {
	case a.voice == 1:
		return 1
	case a.voice == 2:
		return -1
	}
	// Above if any stem points down.
	for i := from; i <= to; i++ {
		c := &e.chords[i]
		if c.src.Voice == a.src.Voice && c.staff == a.staff && c.dir < 0 && !c.grace() {
			return 1
		}
	}
	return -1
}

// slurEnd returns where a slur touches a chord.
func (e *engraver) slurEnd(c *chord, side float64) (x, y float64) {
	x = c.x
	if c.rest() {
		return x, e.staves[c.staff].y - side*2.5
	}
	h := c.topHead()
	if side < 0 {
		h = c.bottomHead()
	}
	if float64(c.dir) == side {
		x = e.stemX(c)
		y = c.tip - side*0.35
		if c.group < 0 && flags(c.src) > 0 || c.grace() {
			y = c.tip - side*0.2
		}
		return x, y
	}
	y = e.headY(h) - side*(0.5*c.scale+0.3)
	if c.grace() {
		return x, y
	}
	// Beyond the heads of other voices that are struck with it.
	for _, i := range e.colAt(c.src.Onset).chords {
		if d := &e.chords[i]; d != c && d.staff == c.staff && !d.rest() {
			if side > 0 {
				y = min(y, e.headY(d.topHead())-0.8)
			} else {
				y = max(y, e.headY(d.bottomHead())+0.8)
			}
		}
	}
	return x, y
}

func (e *engraver) drawSlur(from, to int, s score.Slur) {
	a, b := &e.chords[from], &e.chords[to]
	side := e.slurSide(from, to, s)
	x0, y0 := e.slurEnd(a, side)
	x1, y1 := e.slurEnd(b, side)
	if x1-x0 < 0.8 {
		x0, x1 = min(x0, x1-0.8), max(x1, x0+0.8)
	}
	staff := a.staff
	if a.staff != b.staff {
		staff = min(a.staff, b.staff)
		if side < 0 {
			staff = max(a.staff, b.staff)
		}
	}
	small := a.grace()
	if small && !b.rest() {
		// From head to head, into the corner left of the note.
		x1, y1 = b.x-blackHead()/2*b.scale-0.05, e.headY(b.bottomHead())+0.45*b.scale
		if side > 0 {
			y1 = e.headY(b.topHead()) - 0.45*b.scale
		}
		if b.grace() {
			x1 = b.x
			y1 += 0.2 * -side
		}
		y0 = e.headY(a.bottomHead()) + 0.5
		if side > 0 {
			y0 = e.headY(a.topHead()) - 0.5
		}
		if x1-x0 < 0.6 {
			x0, x1 = x0-0.2, x0+0.6
		}
	}
	height := 0.5 + (x1-x0)*0.06
	if small {
		height = 0.3 + (x1-x0)*0.07
	}
	height = min(height, 3)
	shape := flatArc(x0, y0, x1, y1, height)
	if !small && a.staff == b.staff {
		shape = e.slurArc(staff, x0, y0, x1, y1, height, side)
	}
	shape, side = e.clearest(shape, side, func(try func(a arc, side, cost float64)) {
		bends(shape, side, y0, y1)(try)
		if a.staff != b.staff { // or by the other side
			u0, v0 := e.slurEnd(a, -side)
			u1, v1 := e.slurEnd(b, -side)
			if u1-u0 > 0.8 {
				bends(flatArc(u0, v0, u1, v1, height), -side, v0, v1)(func(a arc, side, cost float64) { try(a, side, cost+1) })
			}
		}
	})
	it := e.slur(staff, shape, side, a.note(), s.Dashed)
	if small && a.ornament != "" {
		it.Ornament, it.Layer = a.ornament, e.signLayer()
	}
}
