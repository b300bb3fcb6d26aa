package engrave

import (
	"math"
	"slices"

	"agremens/realize/sorting"
)

// Limits of a run's pace, in staff spaces to the quarter.
const (
	minPerQuarter = 6
	maxPerQuarter = 60
	// spacesPerSecond is how fast a staff may run at its goal tempo. At 8 pixels
	// a space a note still crosses a tablet's screen in more than three seconds.
	spacesPerSecond = 40
	// tightScale is the size of accidentals where a run leaves no room for
	// whole ones: heads stay as they are, small heads would mean something.
	tightScale = 0.7
)

func sortCols(cols []col) {
	sorting.Stable(cols, func(a, b col) int { return a.onset.Cmp(b.onset) })
}

// blockWidth is the width of what is between the last notes and a
// column's own: clefs, bar line, signatures.
func (e *engraver) blockWidth(k *col) float64 {
	w := 0.0
	if k.metre != nil {
		w += metreWidth(*k.metre) + signPadLeft + signPadRight
	}
	if k.key != nil {
		w += keyWidth(*k.key, k.was) + signPadLeft + signPadRight
	}
	if e.hasBar(k) {
		w += e.barWidth(k) + max(barPad, barToHead+blackHead()/2-k.notes)
	}
	clef := 0.0
	for _, c := range k.clefs {
		clef = max(clef, width(clefGlyph(c, true))+0.5)
	}
	return w + clef
}

// gaps returns, for each column but the first, the least distance from the
// column before at which nothing touches.
func (e *engraver) gaps(cols []col) []float64 {
	out := make([]float64, len(cols))
	type edge struct {
		x    float64 // right edge of the last thing, from the column before
		some bool
	}
	edges := make([]edge, len(e.staves))
	for i := range cols {
		k := &cols[i]
		if i > 0 {
			need := 0.0
			for s := range edges {
				left := k.left[s]
				if k.block > 0 {
					left = max(left, k.notes) + k.block
				} else if left == 0 {
					continue
				}
				if edges[s].some {
					pad := headPad
					if k.measure >= 0 || k.ends {
						pad = barBefore
					}
					need = max(need, edges[s].x+pad+left)
				}
			}
			out[i] = need
		}
		for s := range edges {
			edges[s].x -= out[i]
			if r := k.right[s]; r > 0 {
				edges[s].x = max(edges[s].x, r)
				edges[s].some = true
			}
		}
	}
	return out
}

// paces returns, for each two neighbouring columns, the spaces to the quarter
// they need.
func (e *engraver) paces(scale float64) []float64 {
	need := e.gaps(e.cols)
	var out []float64
	for i := 1; i < len(e.cols); i++ {
		if dt := e.cols[i].onset.Sub(e.cols[i-1].onset).Float(); dt > 0 && need[i] > 0 {
			out = append(out, need[i]/dt*scale)
		}
	}
	return out
}

// tighten makes the accidentals of columns small that stand nearer to the one
// before than they need at a pace, in staff spaces of their own to the quarter.
func (e *engraver) tighten(pace float64) {
	need := e.gaps(e.cols)
	for i := 1; i < len(e.cols); i++ {
		k := &e.cols[i]
		if need[i] <= k.onset.Sub(e.cols[i-1].onset).Float()*pace {
			continue
		}
		for _, j := range k.chords {
			e.chords[j].tight = true
		}
		for s := range e.staves {
			e.placeAccidentals(k.chords, s)
		}
	}
}

// choosePace returns the spaces to the quarter at which nearly every place has
// room: one in four hundred may be tight, or a single small note would stretch
// a whole piece. It keeps the staff from running faster than the eye follows at
// a tempo in quarters a minute, 0 where that is not known.
func choosePace(needs []float64, tempo float64) float64 {
	slices.Sort(needs)
	pace := float64(minPerQuarter)
	if n := len(needs); n > 0 {
		pace = needs[n-1-n/400]
	}
	most := float64(maxPerQuarter)
	if tempo > 0 {
		most = min(most, max(8, spacesPerSecond*60/tempo))
	}
	return min(max(pace, minPerQuarter), most)
}

// place gives every column its x, and every chord. Between columns x goes
// on as given.
func (e *engraver) place(x func(onset float64) float64) {
	e.x = x
	edge := math.Inf(-1)
	for i := range e.cols {
		k := &e.cols[i]
		k.x = x(k.onset.Float())
		k.edge = edge
		for _, r := range k.right {
			edge = max(edge, k.x+r)
		}
		for _, list := range [][]int{k.chords, k.graces, k.after} {
			for _, j := range list {
				c := &e.chords[j]
				c.x = k.x + c.dx
			}
		}
	}
}
