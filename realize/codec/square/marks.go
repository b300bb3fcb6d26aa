package square

import (
	"math"

	"agremens/realize/sorting"
)

// point is a place in the picture, in pixels.
type point struct{ x, y float64 }

func (p point) plus(v point, n float64) point { return point{p.x + n*v.x, p.y + n*v.y} }
func (p point) minus(o point) point           { return point{p.x - o.x, p.y - o.y} }
func (p point) long() float64                 { return math.Hypot(p.x, p.y) }

// mark is one of the large marks in a code's corners: black, white, black,
// white, black in widths of 1, 1, 3, 1, 1 modules across its middle.
type mark struct {
	point
	module float64 // pixels
	seen   int     // lines of the picture that crossed it
}

// marks finds what looks like such a mark along a line, down and across.
func (b *bitmap) marks() (all []mark) {
	for y := range b.high {
		row := b.black[y*b.wide : (y+1)*b.wide]
		var runs [5]int // the last five, the latest last
		n, from := 0, 0
		for x := 1; x <= len(row); x++ {
			if x < len(row) && row[x] == row[from] {
				continue
			}
			copy(runs[:], runs[1:])
			runs[4] = x - from
			if n++; n >= 5 && row[from] && fit(runs) {
				middle := float64(x) - float64(runs[4]+runs[3]) - float64(runs[2])/2
				all = b.confirm(all, point{middle, float64(y) + .5})
			}
			from = x
		}
	}
	var kept []mark
	for _, m := range all {
		if m.seen >= 2 {
			kept = append(kept, m)
		}
	}
	sorting.Stable(kept, func(a, b mark) int { return b.seen - a.seen })
	return kept[:min(len(kept), maxMarks)]
}

// fit reports whether five runs are 1, 1, 3, 1, 1 wide, each to half a module
// and a bit, for the light makes black wider or narrower.
func fit(runs [5]int) bool {
	sum := 0
	for _, r := range runs {
		sum += r
	}
	if sum < 7 {
		return false
	}
	module := float64(sum) / 7
	for i, r := range runs {
		want, room := module, .6*module+.5
		if i == 2 {
			want, room = 3*module, 1.2*module+.5
		}
		if math.Abs(float64(r)-want) > room {
			return false
		}
	}
	return true
}

// confirm looks across a place that fitted along a line, and takes it in.
func (b *bitmap) confirm(all []mark, p point) []mark {
	p, tall, ok := b.across(p, point{0, 1})
	if !ok {
		return all
	}
	p, wide, ok := b.across(p, point{1, 0})
	if !ok || tall > 2*wide || wide > 2*tall {
		return all
	}
	if _, _, ok = b.across(p, point{math.Sqrt2 / 2, math.Sqrt2 / 2}); !ok {
		return all
	}
	module := (tall + wide) / 14
	for i := range all {
		m := &all[i]
		if d := m.minus(p); d.long() < 3*m.module {
			n := float64(m.seen)
			m.x, m.y = (m.x*n+p.x)/(n+1), (m.y*n+p.y)/(n+1)
			m.module = (m.module*n + module) / (n + 1)
			m.seen++
			return all
		}
	}
	return append(all, mark{p, module, 1})
}

// across measures the five runs through a point along a direction of length 1;
// it returns their middle and how far they reach.
func (b *bitmap) across(p, way point) (middle point, reach float64, ok bool) {
	const step = .5
	var ends [2][3]float64 // on either side: where each of the runs ends
	most := float64(max(b.wide, b.high))
	for side := range 2 {
		sign := float64(1 - 2*side)
		at, black := 0.0, true
		for run := range 3 {
			for at < most && b.inside(p.plus(way, sign*at)) && b.at(p.plus(way, sign*at)) == black {
				at += step
			}
			ends[side][run] = at
			black = !black
		}
	}
	f, a := ends[0], ends[1]
	runs := [5]int{}
	for i, length := range []float64{a[2] - a[1], a[1] - a[0], a[0] + f[0], f[1] - f[0], f[2] - f[1]} {
		runs[i] = int(length/step + .5)
	}
	reach = f[2] + a[2]
	// The middle of the black square is the surest.
	return p.plus(way, (f[0]-a[0])/2), reach, fit(runs)
}

func (b *bitmap) inside(p point) bool {
	return p.x >= 0 && p.y >= 0 && p.x < float64(b.wide) && p.y < float64(b.high)
}

// triple is three marks as the corners of a code.
type triple struct {
	corner, right, below mark
	at                   [3]int  // their places in the list
	off                  float64 // how far they are from a square's corners
}

// triples returns what may be three corners of a code, the squarest first.
func triples(marks []mark) (all []triple) {
	for i := range marks {
		for j := range i {
			for k := range j {
				if t, ok := corners(marks, [3]int{i, j, k}); ok {
					all = append(all, t)
				}
			}
		}
	}
	sorting.Stable(all, func(a, b triple) int {
		if a.off < b.off {
			return -1
		}
		if a.off > b.off {
			return 1
		}
		return 0
	})
	return all[:min(len(all), maxTriples)]
}

func corners(marks []mark, at [3]int) (triple, bool) {
	a, b, c := marks[at[0]], marks[at[1]], marks[at[2]]
	// The corner stands opposite the longest side.
	ab, bc, ca := a.minus(b.point).long(), b.minus(c.point).long(), c.minus(a.point).long()
	switch {
	case ab >= bc && ab >= ca:
		a, b, c = c, a, b
	case ca >= ab && ca >= bc:
		a, b = b, a
	}
	right, below := b.minus(a.point), c.minus(a.point)
	if right.x*below.y-right.y*below.x < 0 {
		b, c, right, below = c, b, below, right
	}
	l, r := right.long(), below.long()
	if l < 1 || r < 1 {
		return triple{}, false
	}
	slant := math.Abs(right.x*below.x+right.y*below.y) / (l * r)
	sides := max(l, r)/min(l, r) - 1
	sizes := max(a.module, b.module, c.module)/min(a.module, b.module, c.module) - 1
	// The smallest code is 21 modules wide, 14 from mark to mark; the largest 177.
	wide := (l + r) / 2 / ((a.module + b.module + c.module) / 3)
	if slant > .6 || sides > 1 || sizes > 1.2 || wide < 9 || wide > 260 {
		return triple{}, false
	}
	return triple{a, b, c, at, slant + sides + sizes}, true
}
