package engrave

import (
	"math"
	"sort"

	"agremens/realize/sorting"
)

// hurdle is ink that slurs and ties keep off.
type hurdle struct {
	Box
	weight float64 // how bad it is to run through it
}

const (
	headHurdle = 10
	signHurdle = 6 // accidentals, rests, clefs
	// hurdleReach is wider than any hurdle.
	hurdleReach = 4
)

func (e *engraver) hurdle(b Box, weight float64) {
	e.hurdles = append(e.hurdles, hurdle{b, weight})
}

// sortHurdles puts the hurdles in order, as hurdlesOn wants them.
func (e *engraver) sortHurdles() {
	sorting.Stable(e.hurdles, func(a, b hurdle) int {
		switch {
		case a.Left < b.Left:
			return -1
		case a.Left > b.Left:
			return 1
		}
		return 0
	})
}

// hurdlesOn returns the hurdles that may lie between two x, and some more.
func (e *engraver) hurdlesOn(x0, x1 float64) []hurdle {
	lo := sort.Search(len(e.hurdles), func(i int) bool { return e.hurdles[i].Left >= x0-hurdleReach })
	hi := sort.Search(len(e.hurdles), func(i int) bool { return e.hurdles[i].Left >= x1 })
	return e.hurdles[lo:hi]
}

// pierced sums up the weights of the hurdles that an arc runs through, as far
// as the sum stays below a limit. What took it there comes to the front: it
// will soon decide about the next arc.
func pierced(a *arc, side float64, hurdles []hurdle, limit float64) float64 {
	const near = 0.06 // half of what a curve is thick
	sum := 0.0
	it := a.curve(side)
	top, bottom := min(it.Y, it.Y2, it.C1Y, it.C2Y)-near, max(it.Y, it.Y2, it.C1Y, it.C2Y)+near
	points := 0
	var xs, ys [48]float64
	for k := range hurdles {
		h := &hurdles[k]
		if h.Right < a.x0 || h.Left > a.x1 || h.Bottom < top || h.Top > bottom {
			continue
		}
		if points == 0 {
			points = min(len(xs), max(14, int((a.x1-a.x0)*4)))
			for i := range points {
				xs[i], ys[i] = it.curve(float64(i) / float64(points-1))
			}
		}
		for i := range points {
			if xs[i] > h.Left && xs[i] < h.Right && ys[i] > h.Top-near && ys[i] < h.Bottom+near {
				sum += h.weight
				break
			}
		}
		if sum >= limit {
			hurdles[0], hurdles[k] = hurdles[k], hurdles[0]
			break
		}
	}
	return sum
}

// clearest returns the arc that costs least, of one and its variations: what it
// runs through, and what the variation costs. Where the first is clear it stays.
func (e *engraver) clearest(first arc, side float64, variations func(try func(a arc, side, cost float64))) (arc, float64) {
	hurdles := e.hurdlesOn(first.x0, first.x1)
	best, bestSide, least := first, side, pierced(&first, side, hurdles, math.Inf(1))
	if least == 0 {
		return first, side
	}
	// What no variation comes near is left out.
	const far = 8
	around := e.around[:0]
	for _, h := range hurdles {
		if h.Right > first.x0-1 && h.Bottom > min(first.y0, first.y1)-far-first.left && h.Top < max(first.y0, first.y1)+far+first.left {
			around = append(around, h)
		}
	}
	e.around = around
	variations(func(a arc, side, cost float64) {
		if cost >= least || a.x1-a.x0 < 0.6 {
			return
		}
		if cost += pierced(&a, side, around, least-cost); cost < least {
			best, bestSide, least = a, side, cost
		}
	})
	return best, bestSide
}

// trims returns the places inside an arc's ends where it would stand clear of
// the hurdles it meets there: before the last of them, and behind the first.
func (e *engraver) trims(a arc, reach float64) (x0, x1 float64) {
	const most = 2.4
	x0, x1 = a.x0, a.x1
	mid := (a.x0 + a.x1) / 2
	for _, h := range e.hurdlesOn(a.x0, a.x1) {
		if h.Right < a.x0 || h.Bottom < math.Min(a.y0, a.y1)-reach || h.Top > math.Max(a.y0, a.y1)+reach {
			continue
		}
		if h.Left > max(mid, a.x1-most) {
			x1 = min(x1, h.Left-0.12)
		} else if h.Right < min(mid, a.x0+most) {
			x0 = max(x0, h.Right+0.12)
		}
	}
	return x0, x1
}
