package tap

import "math"

// The alignment is the cheapest order-preserving matching of the strokes of
// one hand to its onsets. Three things cost:
//
//   - an onset missed, or a stroke too many: 1 each (less inside a free trill,
//     and for a key that comes down beside another);
//   - a match: 2·(d/reach)², where d is what is left of the error after the
//     player's momentary offset, and reach is the interval to the onset before
//     (for early strokes) or after (for late ones). A stroke one interval away
//     is as dear as a miss and an extra;
//   - an offset larger than leads are, against the beat, a little at each match:
//     nobody taps half a beat late for long;
//   - a change of the momentary offset between two matches, by its size, up to
//     the price of a new start.
//
// The momentary offset is what makes 80 ms of constant delay readable in a
// trill whose notes are 70 ms apart: strokes that are off by the same amount
// belong together. It is a hidden state on a grid of offsets, so that one
// pass finds matching and offsets at once.
const (
	offsetStep   = 20.0  // ms between offsets of the grid
	offsetRange  = 400.0 // ms, largest offset either way
	offsetFirst  = 0.002 // cost of a ms of offset at the first match
	offsetUsual  = 120.0 // ms; leads and latencies keep within it
	offsetHold   = 1.6   // cost of each match at an offset a whole beat beyond that
	offsetChange = 0.005 // cost of a ms of change
	offsetNew    = 1.2   // cost of any change at most
	matchWeight  = 2.0
	besideNote   = 0.1  // another tap of the same stroke
	freeNote     = 0.35 // missing or adding a note inside a free trill
)

// target is an onset as the aligner sees it.
type target struct {
	at float64
	// Distances at which an early or late match costs as much as a miss and an extra, ms.
	early, late float64
	miss        float64
}

// source is a stroke as the aligner sees it.
type source struct {
	at    float64
	extra float64
}

type aligner struct {
	offsets []float64 // evenly spaced, 0 in the middle
	hold    []float64 // what a match costs at each offset
}

// mostCells bounds the work where far more is tapped than hands can: 2,000
// onsets at trill speed take about a sixth of it.
const mostCells = 8_000_000

// thin keeps fewer offsets where the table would be too large.
func (a *aligner) thin(area int) {
	if area*len(a.offsets) > mostCells {
		a.offsets, a.hold = []float64{0}, []float64{0}
	}
}

// newAligner returns an aligner for a beat of so many ms.
func newAligner(beat float64) aligner {
	var a aligner
	n := math.Floor(math.Min(0.75*beat, offsetRange) / offsetStep)
	for k := -n; k <= n; k++ {
		offset := k * offsetStep
		a.offsets = append(a.offsets, offset)
		beyond := math.Max(0, math.Abs(offset)-offsetUsual) / beat
		a.hold = append(a.hold, offsetHold*beyond*beyond)
	}
	return a
}

func matchCost(t target, s source, offset float64) float64 {
	d := s.at - t.at - offset
	if d < 0 {
		d /= t.early
	} else {
		d /= t.late
	}
	return matchWeight * d * d
}

func changeCost(from, to float64) float64 {
	return math.Min(offsetNew, offsetChange*math.Abs(from-to))
}

const (
	stepNone = iota
	stepMatch
	stepMiss
	stepExtra
)

// align returns for each target the index of its source, or -1, and the
// total cost. Both lists are sorted by time.
func (a aligner) align(targets []target, sources []source) ([]int, float64) {
	n, m := len(targets), len(sources)
	lo, hi := a.band(targets, sources)
	area := 0
	for i := range lo {
		area += hi[i] - lo[i] + 1
	}
	a.thin(area)
	states := len(a.offsets)
	start := make([]int, n+2)
	for i := 0; i <= n; i++ {
		start[i+1] = start[i] + (hi[i]-lo[i]+1)*states
	}
	cells := start[n+1]
	cost := make([]float32, cells)
	step := make([]uint8, cells)
	from := make([]uint8, cells) // state before a match
	for i := range cost {
		cost[i] = float32(math.Inf(1))
	}
	at := func(i, j int) int { return start[i] + (j-lo[i])*states }
	// Nothing is matched yet at (0, 0): every state is free to begin with, and
	// the first match pays for its offset.
	for s := range a.offsets {
		cost[s] = float32(offsetFirst * math.Abs(a.offsets[s]))
	}
	best := make([]float32, states)
	origin := make([]uint8, states)
	for i := 0; i <= n; i++ {
		for j := lo[i]; j <= hi[i]; j++ {
			here := at(i, j)
			if j < hi[i] {
				relax(cost, step, here, at(i, j+1), states, float32(sources[j].extra), stepExtra)
			}
			if i == n {
				continue
			}
			if j >= lo[i+1] && j <= hi[i+1] {
				relax(cost, step, here, at(i+1, j), states, float32(targets[i].miss), stepMiss)
			}
			if j == m || j+1 < lo[i+1] || j+1 > hi[i+1] || !a.near(targets[i], sources[j]) {
				continue
			}
			a.change(cost[here:here+states], best, origin)
			there := at(i+1, j+1)
			for s, offset := range a.offsets {
				c := best[s] + float32(a.hold[s]+matchCost(targets[i], sources[j], offset))
				if c < cost[there+s] {
					cost[there+s], step[there+s], from[there+s] = c, stepMatch, origin[s]
				}
			}
		}
	}
	end, state := at(n, m), 0
	for s := range a.offsets {
		if cost[end+s] < cost[end+state] {
			state = s
		}
	}
	total := float64(cost[end+state])
	matched := make([]int, n)
	for i := range matched {
		matched[i] = -1
	}
	for i, j := n, m; i > 0 || j > 0; {
		c := at(i, j) + state
		switch step[c] {
		case stepMatch:
			i, j = i-1, j-1
			matched[i] = j
			state = int(from[c])
		case stepMiss:
			i--
		case stepExtra:
			j--
		default:
			panic("tap: alignment has no way back")
		}
	}
	return matched, total
}

func relax(cost []float32, step []uint8, here, there, states int, c float32, kind uint8) {
	for s := 0; s < states; s++ {
		if v := cost[here+s] + c; v < cost[there+s] {
			cost[there+s], step[there+s] = v, kind
		}
	}
}

// change writes into best the cheapest way to each state from any state, and
// into origin where it came from. The cost is linear in the distance, so two
// sweeps do; beyond the price of a new start any state may follow the best.
func (a aligner) change(cost, best []float32, origin []uint8) {
	stepCost := float32(offsetNew)
	if len(a.offsets) > 1 {
		stepCost = float32(changeCost(a.offsets[0], a.offsets[1]))
	}
	lowest := 0
	for s := range cost {
		best[s], origin[s] = cost[s], uint8(s)
		if cost[s] < cost[lowest] {
			lowest = s
		}
		if s > 0 && best[s-1]+stepCost < best[s] {
			best[s], origin[s] = best[s-1]+stepCost, origin[s-1]
		}
	}
	limit := cost[lowest] + offsetNew
	for s := len(cost) - 1; s >= 0; s-- {
		if s < len(cost)-1 && best[s+1]+stepCost < best[s] {
			best[s], origin[s] = best[s+1]+stepCost, origin[s+1]
		}
		if limit < best[s] {
			best[s], origin[s] = limit, uint8(lowest)
		}
	}
}

// near reports whether a match can be cheaper than a miss and an extra.
func (a aligner) near(t target, s source) bool {
	width := a.offsets[len(a.offsets)-1]
	return s.at >= t.at-width-t.early && s.at <= t.at+width+t.late
}

// band returns for each row i (i targets done) the range of sources done that
// has to be looked at. Matches outside it never pay, and misses and extras
// may be taken in any order, so nothing is lost.
func (a aligner) band(targets []target, sources []source) (lo, hi []int) {
	n, m := len(targets), len(sources)
	lo, hi = make([]int, n+1), make([]int, n+1)
	width := a.offsets[len(a.offsets)-1]
	// Reaches differ, so a later target may look further back.
	earliest := math.Inf(1)
	for i, j := n-1, m; i >= 0; i-- {
		earliest = math.Min(earliest, targets[i].at-width-targets[i].early)
		for j > 0 && sources[j-1].at >= earliest {
			j--
		}
		// A match of target i enters row i+1 among the sources near it.
		lo[i+1] = j
	}
	latest, j := math.Inf(-1), 0
	for i, t := range targets {
		latest = math.Max(latest, t.at+width+t.late)
		for j < m && sources[j].at <= latest {
			j++
		}
		hi[i] = j
	}
	hi[n] = m
	for i := 0; i < n; i++ {
		// Row i must reach the first cell of row i+1.
		hi[i] = max(hi[i], lo[i+1])
	}
	return lo, hi
}
