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

// table is the alignment of groups with strikes at one tempo.
type table struct {
	groups []group
	start  float64 // s, of cell 0
	cells  int
	emit   [][]float32 // by group, by cell
}

func newTable(p *plan, groups []group, strikes []Strike) *table {
	t := &table{groups: groups}
	if len(strikes) == 0 || len(groups) == 0 {
		return t
	}
	t.start = strikes[0].At - 0.2
	t.cells = int((strikes[len(strikes)-1].At-t.start+0.2)/cell) + 1
	near := map[int][]float32{}
	const r = 4 // cells in reach
	for _, s := range strikes {
		g := gain(s.Odds)
		if g < -missed {
			continue
		}
		row := near[s.Key]
		if row == nil {
			row = make([]float32, t.cells)
			for i := range row {
				row[i] = -missed
			}
			near[s.Key] = row
		}
		c := (s.At - t.start) / cell
		for k := max(0, int(c)-r); k <= min(t.cells-1, int(c)+r+1); k++ {
			z := (float64(k) - c) * cell / 0.03
			row[k] = max(row[k], float32((g+missed)*math.Exp(-0.5*z*z)-missed))
		}
	}
	t.emit = make([][]float32, len(groups))
	for e, g := range groups {
		row := make([]float32, t.cells)
		share := float32(1 / math.Sqrt(float64(len(g.notes))))
		for _, i := range g.notes {
			if n := near[p.notes[i].Key]; n != nil {
				for k, v := range n {
					row[k] += v * share
				}
			} else {
				for k := range row {
					row[k] -= missed * share
				}
			}
		}
		t.emit[e] = row
	}
	return t
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
	value := make([][]float32, n)
	back := make([][]int16, n) // cells to the place before; -1 begins anew
	type origin struct {
		lo, hi int
		price  []float32
	}
	from := make([]origin, n)
	for e := range value {
		value[e] = make([]float32, t.cells)
		back[e] = make([]int16, t.cells)
		if e > 0 {
			s := steps[e-1]
			w := 1 + s.loose
			o := origin{lo: max(1, int((s.seconds*(1-0.6*w)-0.03)/cell)), hi: int(min(longestStep, s.seconds*(1.2+w)+0.12)/cell) + 2}
			for k := o.lo; k < o.hi; k++ {
				o.price = append(o.price, float32(s.price(float64(k)*cell)))
			}
			from[e] = o
		}
	}
	// The best that had ended at each moment: its value, place and cell.
	type ended struct {
		value       float32
		place, cell int
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
				row := value[e-1]
				for k, price := range o.price {
					i := c - o.lo - k
					if i < 0 {
						break
					}
					if w := row[i] - price; w > v {
						v, b = w, int16(o.lo+k)
					}
				}
			}
			v += t.emit[e][c]
			value[e][c], back[e][c] = v, b
			if v > top.value {
				top = ended{v, e, c}
			}
		}
		best[c] = top
	}
	// Back along the path.
	place, at := top.place, top.cell
	for place >= 0 {
		p := pass{}
		var cells []int
		e, c := place, at
		for {
			cells = append(cells, c)
			b := back[e][c]
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
		place, at = best[c-pause].place, best[c-pause].cell
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
