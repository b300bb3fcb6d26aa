package engrave

import "slices"

// Limits of a run's pace, in staff spaces to the quarter.
const (
	minPerQuarter = 6
	maxPerQuarter = 20
)

func sortCols(cols []col) {
	slices.SortFunc(cols, func(a, b col) int { return a.onset.Cmp(b.onset) })
}

// blockWidth is the width of what stands between the last notes and a
// column's own: clefs, bar line, signatures.
func (e *engraver) blockWidth(k *col) float64 {
	w := 0.0
	if k.metre != nil {
		w += metreWidth(*k.metre) + 0.6
	}
	if k.key != nil {
		w += keyWidth(*k.key, k.was) + 0.6
	}
	if k.measure > e.from || k.ends {
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
					need = max(need, edges[s].x+headPad+left)
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

// pace returns the spaces to the quarter at which the narrowest place of the
// columns still has room, within limits.
func (e *engraver) pace() float64 {
	need := e.gaps(e.cols)
	k := 0.0
	for i := 1; i < len(e.cols); i++ {
		if dt := e.cols[i].onset.Sub(e.cols[i-1].onset).Float(); dt > 0 {
			k = max(k, need[i]/dt)
		}
	}
	return k
}

// place gives every column its x, and every chord. Between columns x goes
// on as given.
func (e *engraver) place(x func(onset float64) float64) {
	e.x = x
	for i := range e.cols {
		k := &e.cols[i]
		k.x = x(k.onset.Float())
		for _, list := range [][]int{k.chords, k.graces, k.after} {
			for _, j := range list {
				c := &e.chords[j]
				c.x = k.x + c.dx
			}
		}
	}
}
