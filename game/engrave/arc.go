package engrave

import "math"

// arc is a slur in the making: a cubic whose control points stand lean inside
// its ends, and left and right off the line that joins them.
type arc struct {
	x0, y0, x1, y1    float64
	lean, left, right float64
}

// curve is the arc on one side, 1 above, -1 below.
func (a *arc) curve(side float64) Item {
	dy := (a.y1 - a.y0) * a.lean / max(a.x1-a.x0, 1e-9)
	return Item{Kind: KindCurve, X: a.x0, Y: a.y0, X2: a.x1, Y2: a.y1,
		C1X: a.x0 + a.lean, C1Y: a.y0 - a.left*side + dy, C2X: a.x1 - a.lean, C2Y: a.y1 - a.right*side - dy}
}

// Limits of a slur's shape, in staff spaces (common practice, no source).
const (
	slurClear   = 0.3 // from what lies between its ends
	slurLift    = 2.2 // how far its ends may leave their notes
	slurTallest = 14.0
)

// leans are how far inside the ends the control points may stand, as shares of
// the length: the smaller, the steeper the ends.
var leans = [...]float64{0.3, 0.22, 0.15, 0.09, 0.04}

// flatArc is an arc of a height that keeps clear of nothing. Long ones keep
// their turns near the ends, high ones rise steeply.
func flatArc(x0, y0, x1, y1, height float64) arc {
	h := height * 4 / 3
	lean := min((x1-x0)*(0.3-0.15*min(1, 2*height/max(x1-x0, 1))), 4+(x1-x0)*0.1)
	return arc{x0, y0, x1, y1, lean, h, h}
}

// slurArc shapes a slur on one side (1 above, -1 below) of a staff so that it
// stays close to its notes and clear of what is drawn between them: first the
// ends get steeper, then the middle higher, and last the ends leave the notes.
func (e *engraver) slurArc(s int, x0, y0, x1, y1, height, side float64) arc {
	h := height * 4 / 3
	most := max(h, min(11, 2.5+(x1-x0)*0.5))
	best, cost := arc{}, math.Inf(1)
	for _, lift := range [2]float64{0, slurLift} {
		for _, share := range leans {
			a := arc{x0: x0, y0: y0 - side*lift, x1: x1, y1: y1 - side*lift, left: h, right: h}
			a.lean = min((x1-x0)*share, 4+(x1-x0)*0.1)
			e.raise(&a, s, side)
			tall := max(a.left, a.right)
			c := tall + (leans[0]-share)*8 + 2*lift
			if tall > most {
				c += 10 * (tall - most)
			}
			if c < cost {
				best, cost = a, c
			}
		}
		if max(best.left, best.right) <= most {
			break
		}
	}
	best.left, best.right = min(best.left, slurTallest), min(best.right, slurTallest)
	return best
}

// raise lifts the control points of an arc until it is clear of the ink of a
// staff.
func (e *engraver) raise(a *arc, s int, side float64) {
	type rib struct{ left, right, need float64 }
	st := &e.staves[s]
	n := min(60, max(8, int((a.x1-a.x0)*2)))
	ribs := make([]rib, 0, n)
	for i := 1; i < n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		left, right := 3*u*u*t, 3*u*t*t
		x := a.x0*u*u*u + (a.x0+a.lean)*left + (a.x1-a.lean)*right + a.x1*t*t*t
		if x-a.x0 < 0.4 || a.x1-x < 0.4 {
			continue // the notes themselves
		}
		base := a.y0 + (a.y1-a.y0)*(x-a.x0)/(a.x1-a.x0)
		need := base - (st.y + st.sky.inkTop(x-0.2, x+0.2))
		if side < 0 {
			need = st.y + st.sky.inkBottom(x-0.2, x+0.2) - base
		}
		if need += slurClear; need > 0 {
			ribs = append(ribs, rib{left, right, need})
		}
	}
	for range 40 {
		worst, at := 1e-3, -1
		for i, r := range ribs {
			if d := r.need - r.left*a.left - r.right*a.right; d > worst {
				worst, at = d, i
			}
		}
		if at < 0 {
			return
		}
		// The shortest way to where this rib is long enough.
		r := ribs[at]
		d := 1.02 * worst / (r.left*r.left + r.right*r.right)
		a.left, a.right = a.left+d*r.left, a.right+d*r.right
	}
}

// bends are variations of a slur that runs through something: its ends leave
// their notes, at y0 and y1, by up to slurLift, its middle rises, by as little
// as will do.
func bends(a arc, side, y0, y1 float64) func(try func(a arc, side, cost float64)) {
	return func(try func(a arc, side, cost float64)) {
		lifts := [...]float64{0, 0.4, 0.8, 1.3, slurLift}
		for _, left := range lifts {
			for _, right := range lifts {
				if (y0-a.y0)*side+left > slurLift+0.1 || (y1-a.y1)*side+right > slurLift+0.1 {
					continue
				}
				for _, more := range [...]float64{0, 0.5, 1, 2, 3.5, 5.5} {
					b := a
					b.y0, b.y1 = a.y0-side*left, a.y1-side*right
					b.left, b.right = a.left+more, a.right+more
					cost := 0.5*(left+right) + 0.4*more
					try(b, side, cost)
					b.lean *= 0.4
					try(b, side, cost+0.5)
				}
			}
		}
	}
}
