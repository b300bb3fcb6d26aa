package hear

import (
	"math"
	"sort"

	"agremens/realize/perf"
)

// The second alignment takes each hand by itself, because an ornament that
// comes late comes late against the other hand. Here a place does not stand
// on a grid: it stands on the strikes that could be its notes, or on none.

// claim is which strike a note was found to be.
type claim struct {
	strike int     // index, -1 none
	odds   float64 // of the strike, or of the best that was passed over
	due    float64 // s, when it was to come as the hand was going
}

const (
	early, lateBy = 0.16, 0.24 // s around its place in which a note is looked for
	spread        = 0.055      // s around a group's own instant for its notes
	notHeard      = 2.6        // what a note costs that is taken for not played
	passedOver    = 0.8        // share of its odds that a strike costs which nothing explains
)

// assign returns a claim for each note of the plan, for one pass.
func (p *plan) assign(way pass, strikes []Strike) []claim {
	claims := make([]claim, len(p.notes))
	for i := range claims {
		claims[i] = claim{-1, deaf, 0}
	}
	if len(way.times) == 0 {
		return claims
	}
	due := p.timeMap(way)
	first, last := p.groups[way.from].at, p.groups[way.to()-1].at
	taken := make([]bool, len(strikes))
	for h := range p.hands {
		var chain []group
		for _, g := range p.hands[h] {
			if g.at >= first-samePlace && g.at <= last+samePlace {
				chain = append(chain, g)
			}
		}
		p.assignHand(chain, due, strikes, claims, taken)
	}
	return claims
}

// timeMap returns when a place was to come, by lines fitted to the places
// around it that are no ornament's.
func (p *plan) timeMap(way pass) func(at float64) float64 {
	var at, when, weight []float64
	for i, t := range way.times {
		g := p.groups[way.from+i]
		w := 1.0
		if g.orn != "" {
			w = 0.15
		}
		at, when, weight = append(at, g.at), append(when, t), append(weight, w)
	}
	slope := 0.5
	if n := len(at); n > 1 && at[n-1] > at[0] {
		slope = max(0.02, (when[n-1]-when[0])/(at[n-1]-at[0]))
	}
	width := max(0.5, 0.6/slope) // quarters
	return func(x float64) float64 {
		var s0, s1, s2, t0, t1 float64
		for i := range at {
			z := (at[i] - x) / width
			if z > 4 || z < -4 {
				continue
			}
			w, d := weight[i]*math.Exp(-0.5*z*z)+1e-9, at[i]-x
			s0 += w
			s1 += w * d
			s2 += w * d * d
			t0 += w * when[i]
			t1 += w * d * when[i]
		}
		// A line, held to the pass's own slope where few points stand.
		hold := 0.02 * width * width
		s2 += hold
		t1 += hold * slope
		if s0 == 0 {
			return when[0] + slope*(x-at[0])
		}
		det := s0*s2 - s1*s1
		if det <= 1e-9*s0*s2 {
			return t0 / s0
		}
		return (t0*s2 - t1*s1) / det
	}
}

// node is a moment at which a group may have been played.
type node struct {
	at    float64
	none  bool
	value float64
	from  int
	score float64
}

func (p *plan) assignHand(chain []group, due func(float64) float64, strikes []Strike, claims []claim, taken []bool) {
	if len(chain) == 0 {
		return
	}
	columns := make([][]node, len(chain))
	for i, g := range chain {
		columns[i] = p.nodes(g, due(g.at), strikes, taken)
	}
	for i := range columns {
		for k := range columns[i] {
			n := &columns[i][k]
			n.score, n.from = n.value, -1
			if i == 0 {
				continue
			}
			want := max(0.01, due(chain[i].at)-due(chain[i-1].at))
			ornate := chain[i].orn != "" || chain[i-1].orn != ""
			sd := 0.02 + 0.16*want
			if ornate {
				sd = 0.015 + 0.35*want
			}
			best := math.Inf(-1)
			for j := range columns[i-1] {
				b := &columns[i-1][j]
				d := n.at - b.at
				if !n.none && !b.none && d < 0.02 {
					continue
				}
				z := math.Abs(d-want) / sd
				cost := 0.5 * z * z
				if z > 2 {
					cost = 2*z - 2
				}
				if n.none || b.none {
					cost *= 0.5
				}
				if chain[i].orn != "" && chain[i].orn == chain[i-1].orn || ornate && d > 0.05 {
					cost += p.overlooked(chain[i], chain[i-1], b.at, n.at, strikes)
				}
				if v := b.score - cost; v > best {
					best, n.from = v, j
				}
			}
			n.score += best
		}
	}
	last := len(columns) - 1
	k := 0
	for j := range columns[last] {
		if columns[last][j].score > columns[last][k].score {
			k = j
		}
	}
	for i := last; i >= 0; i-- {
		n := columns[i][k]
		p.claim(chain[i], n, due(chain[i].at), strikes, claims, taken)
		k = n.from
		if k < 0 && i > 0 {
			k = len(columns[i-1]) - 1 // cannot be reached but by none
		}
	}
}

// nodes returns the moments at which a group may have been played; the last
// is that it was not.
func (p *plan) nodes(g group, due float64, strikes []Strike, taken []bool) []node {
	var all []node
	away := func(t float64) float64 {
		sd := 0.05
		if g.orn != "" {
			sd = 0.09
		}
		z := math.Abs(t-due) / sd
		if z > 2 {
			return 2*z - 2
		}
		return 0.5 * z * z
	}
	from := firstFrom(strikes, due-early)
	for k := from; k < len(strikes) && strikes[k].At < due+lateBy; k++ {
		if taken[k] || !p.has(g, strikes[k].Key) {
			continue
		}
		t := strikes[k].At
		v := -away(t)
		for _, i := range g.notes {
			v += p.worth(i, t, strikes, taken)
		}
		all = append(all, node{at: t, value: v})
	}
	return append(all, node{at: due, none: true, value: -notHeard*float64(len(g.notes)) - 0.5})
}

func (p *plan) has(g group, key int) bool {
	for _, i := range g.notes {
		if p.notes[i].Key == key {
			return true
		}
	}
	return false
}

// near returns the strike that is best for a note at a moment, and its worth.
func (p *plan) near(note int, t float64, strikes []Strike, taken []bool) (strike int, value float64) {
	strike, value = -1, -notHeard
	for k := firstFrom(strikes, t-spread); k < len(strikes) && strikes[k].At <= t+spread; k++ {
		if s := strikes[k]; s.Key == p.notes[note].Key && !taken[k] {
			z := (s.At - t) / 0.03
			if v := min(s.Odds+1, worth) - 0.5*z*z; v > value {
				strike, value = k, v
			}
		}
	}
	return strike, value
}

func (p *plan) worth(note int, t float64, strikes []Strike, taken []bool) float64 {
	_, v := p.near(note, t, strikes, taken)
	return v
}

// overlooked is what it costs to go from one moment to another past strikes
// of the keys of both, so that a trill does not slip by one alternation.
func (p *plan) overlooked(g, before group, from, to float64, strikes []Strike) float64 {
	sum := 0.0
	for k := firstFrom(strikes, from+0.025); k < len(strikes) && strikes[k].At < to-0.025; k++ {
		if s := strikes[k]; s.Odds > 0 && (p.has(g, s.Key) || p.has(before, s.Key)) {
			sum += passedOver * min(s.Odds, 3)
		}
	}
	return sum
}

func (p *plan) claim(g group, n node, due float64, strikes []Strike, claims []claim, taken []bool) {
	for _, i := range g.notes {
		claims[i].due = due
		k, _ := p.near(i, n.at, strikes, taken)
		if n.none || k < 0 {
			claims[i].odds = p.best(i, n.at, strikes, taken)
			continue
		}
		claims[i].strike, claims[i].odds = k, strikes[k].Odds
		taken[k] = true
	}
}

// best returns the highest odds of a note's key near a moment.
func (p *plan) best(note int, t float64, strikes []Strike, taken []bool) float64 {
	odds := deaf
	for k := firstFrom(strikes, t-spread); k < len(strikes) && strikes[k].At <= t+spread; k++ {
		if s := strikes[k]; s.Key == p.notes[note].Key && !taken[k] {
			odds = max(odds, s.Odds)
		}
	}
	return odds
}

// firstFrom returns the first strike at or after a time.
func firstFrom(strikes []Strike, t float64) int {
	return sort.Search(len(strikes), func(i int) bool { return strikes[i].At >= t })
}

// handOf returns the hand that plays an ornament, and its notes in order.
func (p *plan) handOf(ornament string) (perf.Hand, []int) {
	hand := perf.Right
	var notes []int
	for _, i := range p.own {
		if p.notes[i].Ornament == ornament {
			notes = append(notes, i)
			hand = p.notes[i].Hand
		}
	}
	return hand, notes
}
