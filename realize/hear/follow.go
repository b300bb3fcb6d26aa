package hear

import "math"

// The first alignment puts the places of the score, both hands together, on
// the time line: a path through a table of places and moments, in which each
// place follows the one before it about as much later as the tempo says. The
// path may break off and begin again anywhere, at a cost, so that repeated
// tries, stops and wrong turns come apart into passes.

const (
	cell = 0.0106 // s, a moment of the table
	// What a note costs that was not heard, and the most one that was is worth.
	missed, worth = 1.3, 4.0
	// What it costs to begin anew at the first place, and at any other.
	againFirst, againElse = 6.0, 9.0
	longestStep           = 6.0 // s, between two places
)

// gain is what a strike is worth to a note of its key.
func gain(odds float64) float64 { return min(odds+2.2, worth) }

// pass is one way through the places, or a part of them.
type pass struct {
	from  int       // first place
	times []float64 // of places from, from+1, …
	score float64
}

func (p pass) to() int { return p.from + len(p.times) }

// table is the alignment of groups with strikes. It holds no more than
// mostCells of places by moments: of a longer sound the end is looked at.
type table struct {
	groups []group
	start  float64 // s, of cell 0
	cells  int
	near   [][]float32 // what a key is worth at each cell, by key that is expected
	keys   [][]int     // indexes in near of each group's notes
	share  []float32   // of each note in its group
	back   [][]int16   // cells to the place before; -1 begins anew
}

const mostCells = 10_000_000 // 20 MB

func newTable(p *plan, groups []group, strikes []Strike) *table {
	t := &table{groups: groups}
	if len(strikes) == 0 || len(groups) == 0 {
		return t
	}
	end := strikes[len(strikes)-1].At + 0.2
	t.start = max(strikes[0].At-0.2, end-cell*float64(max(1, mostCells/len(groups)-2)))
	t.cells = int((end-t.start)/cell) + 1
	at := map[int]int{}
	for _, g := range groups {
		var keys []int
		for _, i := range g.notes {
			k, ok := at[p.notes[i].Key]
			if !ok {
				k = len(t.near)
				at[p.notes[i].Key] = k
				row := make([]float32, t.cells)
				for c := range row {
					row[c] = -missed
				}
				t.near = append(t.near, row)
			}
			keys = append(keys, k)
		}
		t.keys = append(t.keys, keys)
		t.share = append(t.share, float32(1/math.Sqrt(float64(len(keys)))))
		t.back = append(t.back, make([]int16, t.cells))
	}
	const r = 4 // cells in reach
	for _, s := range strikes {
		g := gain(s.Odds)
		k, ok := at[s.Key]
		if !ok || g < -missed {
			continue
		}
		row := t.near[k]
		c := (s.At - t.start) / cell
		for i := max(0, int(c)-r); i <= min(t.cells-1, int(c)+r+1); i++ {
			z := (float64(i) - c) * cell / 0.03
			row[i] = max(row[i], float32((g+missed)*math.Exp(-0.5*z*z)-missed))
		}
	}
	return t
}

// emit is what a group is worth at a cell.
func (t *table) emit(group, c int) float32 {
	sum := float32(0)
	for _, k := range t.keys[group] {
		sum += t.near[k][c]
	}
	return sum * t.share[group]
}

// step is how the time between two places may vary.
type step struct {
	seconds float64 // expected
	loose   float64 // its spread, as a share
}

// price is what it costs that a step takes d seconds.
func (s step) price(d float64) float64 {
	sd := max(0.03, min(0.5, s.loose*s.seconds))
	z := math.Abs(d-s.seconds) / sd
	if z < 2 {
		return 0.5 * z * z
	}
	return 2*z - 2
}

// align finds the best passes, the last one last.
func (t *table) align(steps []step) (passes []pass, score float64) {
	n := len(t.groups)
	if n == 0 || t.cells == 0 {
		return nil, 0
	}
	type origin struct {
		lo    int
		price []float32
	}
	from := make([]origin, n)
	reach := 1 // cells that a step may take
	for e := 1; e < n; e++ {
		s := steps[e-1]
		w := 1 + s.loose
		o := origin{lo: max(1, int((s.seconds*(1-0.6*w)-0.03)/cell))}
		hi := int(min(longestStep, s.seconds*(1.2+w)+0.12)/cell) + 2
		for k := o.lo; k < hi; k++ {
			o.price = append(o.price, float32(s.price(float64(k)*cell)))
		}
		from[e] = o
		if len(o.price) > 0 {
			reach = max(reach, o.lo+len(o.price))
		}
	}
	// Only the last values are needed. They stand twice, reach apart, so that
	// those before any cell lie in one piece.
	value := make([][]float32, n)
	for e := range value {
		value[e] = make([]float32, 2*reach)
	}
	// The best that had ended at each moment: its value, place and cell.
	type ended struct {
		value       float32
		place, cell int32
	}
	best := make([]ended, t.cells)
	top := ended{0, -1, 0}
	const pause = 14 // cells between passes
	for c := range t.cells {
		before := ended{0, -1, 0}
		if c >= pause {
			before = best[c-pause]
		}
		for e := range n {
			begin := before.value - againElse
			switch {
			case e == 0 && before.place < 0:
				begin = 0
			case e == 0:
				begin = before.value - againFirst
			}
			v, b := begin, int16(-1)
			if e > 0 {
				o := &from[e]
				if i := c - o.lo; i >= 0 {
					row := value[e-1][:i%reach+reach+1]
					for k, price := range o.price[:min(len(o.price), i+1)] {
						if w := row[len(row)-1-k] - price; w > v {
							v, b = w, int16(o.lo+k)
						}
					}
				}
			}
			v += t.emit(e, c)
			value[e][c%reach], value[e][c%reach+reach] = v, v
			t.back[e][c] = b
			if v > top.value {
				top = ended{v, int32(e), int32(c)}
			}
		}
		best[c] = top
	}
	// Back along the path.
	place, at := int(top.place), int(top.cell)
	for place >= 0 {
		p := pass{}
		var cells []int
		e, c := place, at
		for {
			cells = append(cells, c)
			b := t.back[e][c]
			if b < 0 {
				break
			}
			e, c = e-1, c-int(b)
		}
		p.from = e
		for i := len(cells) - 1; i >= 0; i-- {
			p.times = append(p.times, t.start+float64(cells[i])*cell)
		}
		passes = append(passes, p)
		if c < pause {
			break
		}
		place, at = int(best[c-pause].place), int(best[c-pause].cell)
	}
	for i, j := 0, len(passes)-1; i < j; i, j = i+1, j-1 {
		passes[i], passes[j] = passes[j], passes[i]
	}
	return passes, float64(top.value)
}

// steps are the steps of groups at a tempo.
func stepsAt(groups []group, quarter func(at float64) float64, plain, ornament float64) []step {
	var all []step
	for i := 1; i < len(groups); i++ {
		loose := plain
		if groups[i].orn != "" || groups[i-1].orn != "" {
			loose = ornament
		}
		d := groups[i].at - groups[i-1].at
		all = append(all, step{d * quarter((groups[i].at+groups[i-1].at)/2), loose})
	}
	return all
}

// tempi returns the lengths of a quarter to try.
func (p *plan) tempi(asked bool) []float64 {
	if p.quarter == 0 {
		var all []float64
		for q := 0.2; q < 3.2; q *= 1.22 {
			all = append(all, q)
		}
		return all
	}
	if asked {
		return []float64{p.quarter, p.quarter * 0.85, p.quarter * 1.18}
	}
	return []float64{p.quarter, p.quarter * 0.8, p.quarter * 1.25}
}

// follow aligns all groups, first at fixed tempi, then along the tempo that
// the best of these shows.
func (p *plan) follow(strikes []Strike, asked bool) []pass {
	t := newTable(p, p.groups, strikes)
	var best []pass
	top, tempo := math.Inf(-1), 0.0
	for _, q := range p.tempi(asked) {
		passes, score := t.align(stepsAt(p.groups, func(float64) float64 { return q }, 0.22, 0.45))
		if score > top {
			best, top, tempo = passes, score, q
		}
	}
	if len(best) == 0 {
		return nil
	}
	for range 2 {
		last := best[len(best)-1]
		curve := tempoCurve(p.groups, last, tempo)
		again, score := t.align(stepsAt(p.groups, curve, 0.17, 0.4))
		if score < top {
			break
		}
		best, top = again, score
	}
	return best
}

// tempoCurve returns the local length of a quarter along a pass.
func tempoCurve(groups []group, p pass, tempo float64) func(at float64) float64 {
	var mid, ratio, weight []float64
	for i := 1; i < len(p.times); i++ {
		a, b := groups[p.from+i-1], groups[p.from+i]
		d := b.at - a.at
		if a.orn != "" && b.orn != "" {
			continue
		}
		mid = append(mid, (a.at+b.at)/2)
		ratio = append(ratio, min(0.5, max(-0.5, math.Log(max(p.times[i]-p.times[i-1], 0.02)/(d*tempo)))))
		weight = append(weight, min(1, d))
	}
	return func(at float64) float64 {
		sum, all := 0.0, 0.05 // a little faith in the tempo itself
		for i, m := range mid {
			z := (at - m) / 1.2
			w := weight[i] * math.Exp(-0.5*z*z)
			sum += w * ratio[i]
			all += w
		}
		return tempo * math.Exp(sum/all)
	}
}
