package square

import (
	"math"

	"rsc.io/qr/coding"
)

// view maps a code's modules into the picture: x, y in modules from its upper
// left corner to pixels, in perspective.
type view [8]float64

func (v *view) at(x, y float64) point {
	d := v[6]*x + v[7]*y + 1
	return point{(v[0]*x + v[1]*y + v[2]) / d, (v[3]*x + v[4]*y + v[5]) / d}
}

// see is the view in which four modules stand at four places; ok is false where
// three of them are in line.
func see(from, to [4]point) (v view, ok bool) {
	// Two equations for each, solved by elimination.
	var m [8][9]float64
	for i := range 4 {
		x, y, u, w := from[i].x, from[i].y, to[i].x, to[i].y
		m[2*i] = [9]float64{x, y, 1, 0, 0, 0, -x * u, -y * u, u}
		m[2*i+1] = [9]float64{0, 0, 0, x, y, 1, -x * w, -y * w, w}
	}
	for c := range 8 {
		best := c
		for r := c + 1; r < 8; r++ {
			if math.Abs(m[r][c]) > math.Abs(m[best][c]) {
				best = r
			}
		}
		if m[c], m[best] = m[best], m[c]; math.Abs(m[c][c]) < 1e-9 {
			return v, false
		}
		for r := range 8 {
			if r == c {
				continue
			}
			f := m[r][c] / m[c][c]
			for k := c; k < 9; k++ {
				m[r][k] -= f * m[c][k]
			}
		}
	}
	for i := range 8 {
		v[i] = m[i][8] / m[i][i]
	}
	return v, true
}

// read reads the code whose corners three marks are.
func (b *bitmap) read(t triple) ([]byte, bool) {
	t = b.measured(t)
	for _, size := range b.sizes(t) {
		for _, v := range b.views(t, size) {
			modules := b.sample(&v, size)
			if text, ok := decode(modules, size); ok {
				return text, true
			}
		}
	}
	return nil, false
}

// measured measures the three marks again, along the sides of the code.
func (b *bitmap) measured(t triple) triple {
	right, below := t.right.minus(t.corner.point), t.below.minus(t.corner.point)
	l, r := right.long(), below.long()
	for _, m := range []*mark{&t.corner, &t.right, &t.below} {
		p, wide, ok := b.across(m.point, point{right.x / l, right.y / l})
		if !ok {
			continue
		}
		p, high, ok := b.across(p, point{below.x / r, below.y / r})
		if !ok {
			continue
		}
		m.point, m.module = p, math.Sqrt(wide*high)/7
	}
	return t
}

// sizes are how many modules wide a code may be, the likeliest first: as many
// as its dotted lines change colour, and as its marks are apart.
func (b *bitmap) sizes(t triple) (all []int) {
	add := func(n float64) {
		size := 4*int(math.Round((n-1)/4)) + 1
		for _, have := range all {
			if have == size {
				return
			}
		}
		if size >= 21 && size <= 177 {
			all = append(all, size)
		}
	}
	right, below := t.right.minus(t.corner.point), t.below.minus(t.corner.point)
	l, r := right.long(), below.long()
	across, down := b.changes(t.corner, t.right, below, r), b.changes(t.corner, t.below, right, l)
	apart := (l/(t.corner.module+t.right.module) + r/(t.corner.module+t.below.module)) + 7
	for _, n := range []float64{across + 13, down + 13, apart, apart + 4, apart - 4} {
		add(n)
	}
	return all
}

// changes counts how often the colour changes along the dotted line from one
// mark to another, which stands three modules from their middles towards the
// third, from which side is the way there and long its length.
func (b *bitmap) changes(from, to mark, side point, long float64) float64 {
	begin := from.plus(side, 3*from.module/long)
	way := to.plus(side, 3*to.module/long).minus(begin)
	n, last := 0, true
	steps := way.long() * 2
	run := 0.0
	for i := 0.0; i < steps; i++ {
		if black := b.at(begin.plus(way, i/steps)); black != last {
			if run > 1 { // less than a pixel is a speck
				n++
				last, run = black, 0
			} else {
				run++
			}
			continue
		}
		run++
	}
	return float64(n)
}

// views are how a code of a size may stand in the picture: in the perspective
// that the marks' sizes tell, and as a parallelogram; each made exact by the
// small mark in the fourth corner, where it is found.
func (b *bitmap) views(t triple, size int) (all []view) {
	n := float64(size)
	from := [4]point{{3.5, 3.5}, {n - 3.5, 3.5}, {3.5, n - 3.5}, {n - 3.5, n - 3.5}}
	to := [4]point{t.corner.point, t.right.point, t.below.point, fourth(t)}
	rough, ok := see(from, to)
	to[3] = t.right.plus(t.below.minus(t.corner.point), 1)
	flat, flatOK := see(from, to)
	if !ok || !flatOK {
		return nil
	}
	if size == 21 { // the smallest has no small mark
		return []view{rough, flat}
	}
	from[3] = point{n - 6.5, n - 6.5}
	for _, v := range []view{rough, flat} {
		guess := v.at(n-6.5, n-6.5)
		small, fits := b.small(guess, v.at(n-6, n-6.5).minus(v.at(n-7, n-6.5)), v.at(n-6.5, n-6).minus(v.at(n-6.5, n-7)), n)
		if !fits {
			continue
		}
		to[3] = small
		if v, ok := see(from, to); ok {
			all = append(all, v)
		}
	}
	return append(all, rough)
}

// fourth is where the fourth corner is seen: in perspective a length of the
// code appears the smaller the farther it is, with the power 3/2 of its
// distance where it is the root of an area.
func fourth(t triple) point {
	far := func(m mark) float64 { return math.Pow(m.module, -2./3) }
	c, r, d := far(t.corner), far(t.right), far(t.below)
	f := r + d - c
	if f <= 0 {
		return t.right.plus(t.below.minus(t.corner.point), 1)
	}
	return point{(r*t.right.x + d*t.below.x - c*t.corner.x) / f, (r*t.right.y + d*t.below.y - c*t.corner.y) / f}
}

// small looks for the small mark around a guess: black, white, black rings of
// five, three and one modules.
func (b *bitmap) small(guess, across, down point, size float64) (point, bool) {
	reach := math.Max(4, size/10)
	module := (across.long() + down.long()) / 2
	step := math.Max(1, module/4) / module // in modules
	if module < 1 {
		return guess, false
	}
	type found struct {
		place  point
		misses int
		far    float64
	}
	best := found{misses: maxMisses + 1}
	sum, n := point{}, 0.0
	for y := -reach; y <= reach; y += step {
		for x := -reach; x <= reach; x += step {
			p := guess.plus(across, x).plus(down, y)
			m := b.misses(p, across, down, best.misses)
			far := math.Hypot(x, y)
			near := p.minus(best.place).long() < 1.2*module
			switch {
			case m < best.misses || m == best.misses && !near && far < best.far:
				best, sum, n = found{p, m, far}, p, 1
			case m == best.misses && near:
				sum, n = sum.plus(p, 1), n+1 // the middle of those as good
			}
		}
	}
	return point{sum.x / n, sum.y / n}, best.misses <= maxMisses
}

// maxMisses is how many of the hundred places of a small mark may be wrong.
const maxMisses = 22

// misses counts, of a hundred places of a small mark at a point, those that
// have the other colour; it gives up at more than enough.
func (b *bitmap) misses(p, across, down point, enough int) (n int) {
	for y := -2; y <= 2; y++ {
		for x := -2; x <= 2; x++ {
			black := x == -2 || x == 2 || y == -2 || y == 2 || x == 0 && y == 0
			for _, d := range [4][2]float64{{-.25, -.25}, {.25, -.25}, {-.25, .25}, {.25, .25}} {
				if b.at(p.plus(across, float64(x)+d[0]).plus(down, float64(y)+d[1])) != black {
					n++
				}
			}
		}
		if n > enough {
			return n
		}
	}
	return n
}

// sample reads the modules, row by row: what most of five places in each say.
func (b *bitmap) sample(v *view, size int) []bool {
	modules := make([]bool, size*size)
	for y := range size {
		for x := range size {
			n := 0
			for _, d := range [5][2]float64{{0, 0}, {-.2, 0}, {.2, 0}, {0, -.2}, {0, .2}} {
				if b.at(v.at(float64(x)+.5+d[0], float64(y)+.5+d[1])) {
					n++
				}
			}
			modules[y*size+x] = n >= 3
		}
	}
	return modules
}

// version is that of a code so many modules wide.
func version(size int) coding.Version { return coding.Version((size - 17) / 4) }
