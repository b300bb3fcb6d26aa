package hear

import (
	"math"
	"slices"
	"sort"
)

// The second alignment takes each hand by itself, because an ornament that
// comes late comes late against the other hand. Here a place does not stand
// on a grid: it stands on the strikes that could be its notes, or on none.

// claim is which strike a note was found to be.
type claim struct {
	strike int     // index, -1 none
	odds   float64 // of the strike, or of the best that was passed over
	due    float64 // s, when it was to come as the hand was going
	other  bool    // another key was struck for it, at due
}

const (
	early, lateBy = 0.16, 0.24 // s around its place in which a note is looked for
	spread        = 0.055      // s around its place in which a note may hide
	rolled        = 0.13       // s around a group's own instant for its notes
	strong        = 7.0        // the most a strike is worth
	notHeard      = 4.5        // what a note costs that is taken for not played
	faith         = 1.5        // added to odds: a note expected is mostly played
	// What a strike costs that nothing explains, as a share of its odds: before
	// an ornament, and within one or after it, where a player goes on shaking.
	passedBefore, passedAfter = 1.1, 0.7
)

// assign returns a claim for each note of the plan, for one pass.
func (p *plan) assign(way pass, strikes []Strike) []claim {
	claims := make([]claim, len(p.notes))
	for i := range claims {
		claims[i] = claim{strike: -1, odds: deaf}
	}
	if len(way.times) == 0 {
		return claims
	}
	due := p.timeMap(way)
	first, last := p.stretch(way)
	taken := make([]bool, len(strikes))
	inside := func(g group) bool { return g.at >= first-samePlace && g.at <= last+samePlace }
	for h := range p.hands {
		for _, chain := range p.ornamentChains(p.hands[h]) {
			if inside(chain[0]) || inside(chain[len(chain)-1]) {
				p.assignHand(chain, due, strikes, claims, taken)
			}
		}
		var chain []group
		for _, g := range p.hands[h] {
			if !inside(g) {
				continue
			}
			rest := group{at: g.at}
			for _, i := range g.notes {
				if p.notes[i].Ornament == "" && claims[i].strike < 0 {
					rest.notes = append(rest.notes, i)
				}
			}
			if len(rest.notes) > 0 {
				chain = append(chain, rest)
			}
		}
		p.assignHand(chain, due, strikes, claims, taken)
	}
	p.rescue(first, last, strikes, claims, taken)
	return claims
}

// ornamentChains returns for each ornament of a hand its notes with the ones
// before and after it that lie near it on the keyboard: the hand's other
// voices go their own way.
func (p *plan) ornamentChains(groups []group) [][]group {
	var all [][]group
	for i := 0; i < len(groups); i++ {
		name := groups[i].orn
		if name == "" || i > 0 && groups[i-1].orn == name {
			continue
		}
		low, high := highestKey, lowestKey
		var notes []group
		last := i
		for k := i; k < len(groups) && groups[k].at < groups[i].at+longestOrnament; k++ {
			g := group{at: groups[k].at, orn: name}
			for _, n := range groups[k].notes {
				if p.notes[n].Ornament == name {
					g.notes = append(g.notes, n)
					low, high = min(low, p.notes[n].Key), max(high, p.notes[n].Key)
				}
			}
			if len(g.notes) > 0 {
				notes, last = append(notes, g), k
			}
		}
		beside := func(k, by, most int) (near []group) {
			for n := 0; n < 3 && len(near) < most && k >= 0 && k < len(groups); n, k = n+1, k+by {
				g := group{at: groups[k].at}
				for _, i := range groups[k].notes {
					if key := p.notes[i].Key; p.notes[i].Ornament == "" && key >= low-nearby && key <= high+nearby {
						g.notes = append(g.notes, i)
					}
				}
				if len(g.notes) > 0 {
					near = append(near, g)
				}
			}
			return near
		}
		chain := beside(i-1, -1, besideBefore)
		slices.Reverse(chain)
		all = append(all, append(append(chain, notes...), beside(last+1, 1, besideAfter)...))
	}
	return all
}

const (
	longestOrnament = 16 // quarters
	nearby          = 5  // semitones
	// How many places before and after an ornament are found with it: the one
	// after its landing tells a landing that comes early from a note of its key.
	besideBefore, besideAfter = 1, 2
	// A landing comes at its own time, s: how early it is looked for, how far it
	// usually lies from the beat, and from there to the next note.
	landEarly, landLoose, landTie = 0.2, 0.06, 0.05
)

// rescue gives plain notes that were not heard in their place a strong strike
// of their key that nothing explains: inner voices do not always keep the
// order of the page.
func (p *plan) rescue(first, last float64, strikes []Strike, claims []claim, taken []bool) {
	for _, i := range p.own {
		n := p.notes[i]
		if n.Ornament != "" || n.At < first-samePlace || n.At > last+samePlace || claims[i].strike >= 0 {
			continue
		}
		best, cost := -1, 3.0
		for k := firstFrom(strikes, claims[i].due-0.35); k < len(strikes) && strikes[k].At < claims[i].due+0.35; k++ {
			s := strikes[k]
			if s.Key != n.Key || taken[k] || s.Odds < 0 {
				continue
			}
			if c := slack((s.At-claims[i].due)/0.08) - s.Odds; c < cost && c < 1 {
				best, cost = k, c
			}
		}
		if best >= 0 {
			claims[i].strike, claims[i].odds = best, strikes[best].Odds
			taken[best] = true
		}
	}
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
		for i := sort.SearchFloat64s(at, x-4*width); i < len(at) && at[i] <= x+4*width; i++ {
			z := (at[i] - x) / width
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

// stretch returns the places of the first and the last note that a pass
// reached; an ornament that it began is reached to its end.
func (p *plan) stretch(way pass) (first, last float64) {
	first, last = p.groups[way.from].at, p.groups[way.to()-1].at
	if orn := p.groups[way.to()-1].orn; orn != "" {
		for _, i := range p.own {
			if p.notes[i].Ornament == orn {
				last = max(last, p.notes[i].At)
			}
		}
	}
	return first, last
}

// node is a moment at which a group may have been played.
type node struct {
	at     float64
	value  float64 // what the strikes there are worth
	score  float64 // of the best way up to here
	before int     // the group before it on that way, -1 none, and its node
	from   int
}

func (p *plan) assignHand(chain []group, due func(float64) float64, strikes []Strike, claims []claim, taken []bool) {
	if len(chain) == 0 {
		return
	}
	columns := make([][]node, len(chain))
	// skipped[i] is what it costs that none of the first i groups was played.
	skipped := make([]float64, len(chain)+1)
	for i, g := range chain {
		columns[i] = p.nodes(chain, i, due, strikes, claims, taken)
		skipped[i+1] = skipped[i] + notHeard*float64(len(g.notes)) + 0.5
	}
	end, last := -1, -1
	top := -skipped[len(chain)]
	for i, g := range chain {
		for k := range columns[i] {
			n := &columns[i][k]
			n.before, n.score = -1, -skipped[i]
			if g.orn != "" && i+1 < len(chain) { // it begins with the first strike that can be its own
				n.score -= p.overlooked(g, chain[i+1], due(g.at)-early, n.at, strikes)
			}
			for h := max(0, i-mostSkipped); h < i; h++ {
				before := chain[h]
				want := max(0.01, due(g.at)-due(before.at))
				for j := range columns[h] {
					b := &columns[h][j]
					d := n.at - b.at
					if d < 0.02 {
						continue
					}
					cost := skipped[i] - skipped[h+1]
					if before.orn != "" {
						// The ornament's own speed: twice as slow or fast is nothing much.
						cost += slack(math.Log(d/max(want, 0.04)) / 0.8)
					} else {
						tie := 0.02
						if h > 0 && chain[h-1].orn != "" { // from the landing
							tie = landTie
						}
						cost += slack((d - want) / (tie + 0.16*want))
					}
					if b.score-cost <= n.score {
						continue
					}
					cost += p.overlooked(g, before, b.at, n.at, strikes)
					if v := b.score - cost; v > n.score {
						n.score, n.before, n.from = v, h, j
					}
				}
			}
			n.score += n.value
			if v := n.score - (skipped[len(chain)] - skipped[i+1]); v > top {
				top, end, last = v, i, k
			}
		}
	}
	at := make([]float64, len(chain)) // NaN: not played
	for i := range at {
		at[i] = math.NaN()
	}
	for end >= 0 {
		n := columns[end][last]
		at[end] = n.at
		end, last = n.before, n.from
	}
	for i, g := range chain {
		p.claim(g, at[i], due(g.at), strikes, claims, taken)
	}
	p.between(chain, claims, strikes)
}

// mostSkipped is how many groups in a row may be passed over, less one.
const mostSkipped = 6

// slack is half a square, and a line beyond 2: a cost that a strong strike can
// always outweigh.
func slack(z float64) float64 {
	if z = math.Abs(z); z > 2 {
		return 2*z - 2
	}
	return 0.5 * z * z
}

// nodes returns the moments at which a group may have been played.
func (p *plan) nodes(chain []group, i int, due func(float64) float64, strikes []Strike, claims []claim, taken []bool) []node {
	g := chain[i]
	for _, n := range g.notes {
		if k := claims[n].strike; k >= 0 { // found beside the ornament before this one
			return []node{{at: strikes[k].At, value: min(strikes[k].Odds+faith, strong)}}
		}
	}
	at := due(g.at)
	first := g.orn == "" || i == 0 || chain[i-1].orn != g.orn
	from, to := at-early, at+lateBy
	loose := 0.05                                     // s
	if g.orn == "" && i > 0 && chain[i-1].orn != "" { // the landing
		from, loose = at-landEarly, landLoose
	}
	if g.orn != "" {
		// An ornament's notes may come anywhere between its neighbours.
		for k := i; k >= 0; k-- {
			from = due(chain[k].at) - early
			if chain[k].orn != g.orn {
				break
			}
		}
		for k := i; k < len(chain); k++ {
			to = due(chain[k].at) + lateBy
			if chain[k].orn != g.orn {
				break
			}
		}
	}
	var all []node
	for k := firstFrom(strikes, from); k < len(strikes) && strikes[k].At < to; k++ {
		if taken[k] || !p.has(g, strikes[k].Key) && !p.otherKey(chain, g, due, k, strikes) || !first && strikes[k].Odds < -5 {
			continue
		}
		t := strikes[k].At
		v := 0.0
		switch {
		case g.orn == "":
			v = -slack((t - at) / loose)
		case first:
			v = -slack((t - at) / 0.1)
		}
		if p.has(g, strikes[k].Key) {
			for _, n := range g.notes {
				v += p.worth(g, n, t, strikes, taken)
			}
		} else {
			v -= instead
		}
		if !first {
			v -= ghostly(k, strikes)
		}
		all = append(all, node{at: t, value: v})
	}
	return all
}

// otherKey reports whether a strike may be another key, played in place of an
// ornament's single note: near it on the keyboard, plain to hear, and due as
// nothing else.
func (p *plan) otherKey(chain []group, g group, due func(float64) float64, k int, strikes []Strike) bool {
	s := strikes[k]
	if g.orn == "" || len(g.notes) != 1 || s.Odds < insteadOdds {
		return false
	}
	if d := s.Key - p.notes[g.notes[0]].Key; d < -2 || d > 2 {
		return false
	}
	for _, other := range chain {
		if p.has(other, s.Key) {
			return false
		}
	}
	for _, i := range p.own {
		if n := p.notes[i]; n.Key == s.Key && math.Abs(due(n.At)-s.At) < 0.15 {
			return false
		}
	}
	for i := firstFrom(strikes, s.At-0.03); i < len(strikes) && strikes[i].At < s.At+0.03; i++ {
		d := s.Key - strikes[i].Key
		if o := strikes[i].Odds; o > s.Odds+1 && (d >= -2 && d <= 2 && d != 0 || isPartial(d)) {
			return false // that one's blow, or its partial
		}
	}
	return true
}

// What another key in place of an ornament's note costs, and the least odds of
// its strike.
const (
	instead     = 2.0
	insteadOdds = 2.0
)

// What a faint strike costs within an ornament that a clearer one makes with
// its second partial, the octave, or with a higher one.
const (
	ghostLow, ghostHigh = 6.0, 4.0
	faint               = 1.5 // odds
)

// ghostly is that cost where a strike may be a partial of one below it.
func ghostly(k int, strikes []Strike) (cost float64) {
	s := strikes[k]
	if s.Odds > faint {
		return 0
	}
	for i := firstFrom(strikes, s.At-0.02); i < len(strikes) && strikes[i].At < s.At+0.02; i++ {
		o := strikes[i]
		switch d := s.Key - o.Key; {
		case o.Odds <= s.Odds+1 || !isPartial(d):
		case d == 12:
			return ghostLow
		default:
			cost = ghostHigh
		}
	}
	return cost
}

func (p *plan) has(g group, key int) bool {
	for _, i := range g.notes {
		if p.notes[i].Key == key {
			return true
		}
	}
	return false
}

// near returns the strike that is best for a note of a group at a moment, and
// its worth. A note by itself is the strike at that moment; those of a chord
// may be rolled.
func (p *plan) near(g group, note int, t float64, strikes []Strike, taken []bool) (strike int, value float64) {
	within := 0.001
	if len(g.notes) > 1 {
		within = rolled
	}
	strike, value = -1, -notHeard
	for k := firstFrom(strikes, t-within); k < len(strikes) && strikes[k].At <= t+within; k++ {
		if s := strikes[k]; s.Key == p.notes[note].Key && !taken[k] {
			if v := min(s.Odds+faith, strong) - slack((s.At-t)/0.03); v > value {
				strike, value = k, v
			}
		}
	}
	return strike, value
}

func (p *plan) worth(g group, note int, t float64, strikes []Strike, taken []bool) float64 {
	_, v := p.near(g, note, t, strikes, taken)
	return v
}

// overlooked is what it costs to go from one moment to another past strikes
// of the keys of both, so that a trill does not slip by one alternation.
func (p *plan) overlooked(g, before group, from, to float64, strikes []Strike) float64 {
	share := passedBefore
	if before.orn != "" {
		share = passedAfter
	}
	sum := 0.0
	for k := firstFrom(strikes, from+0.025); k < len(strikes) && strikes[k].At < to-0.025; k++ {
		if s := strikes[k]; s.Odds > 0 && (p.has(g, s.Key) || p.has(before, s.Key)) {
			sum += share * min(s.Odds, 4)
		}
	}
	return sum
}

// claim gives a group's notes their strikes at a moment, or none where it is
// no number.
func (p *plan) claim(g group, t, due float64, strikes []Strike, claims []claim, taken []bool) {
	for _, i := range g.notes {
		if claims[i].strike >= 0 {
			continue
		}
		claims[i].due = due
		k := -1
		if !math.IsNaN(t) {
			k, _ = p.near(g, i, t, strikes, taken)
		}
		if k < 0 {
			place := t
			if math.IsNaN(t) {
				place = due
			} else if g.orn != "" && len(g.notes) == 1 {
				claims[i].due, claims[i].other = t, true
				continue
			}
			claims[i].odds = p.best(i, place, strikes, taken)
			continue
		}
		claims[i].strike, claims[i].odds = k, strikes[k].Odds
		taken[k] = true
	}
}

// between moves the places of notes that were not heard to between those of
// the hand that were.
func (p *plan) between(chain []group, claims []claim, strikes []Strike) {
	when := func(g group) (float64, bool) {
		for _, i := range g.notes {
			if k := claims[i].strike; k >= 0 {
				return strikes[k].At, true
			}
		}
		return 0, false
	}
	for i, g := range chain {
		if _, ok := when(g); ok || i == 0 || i == len(chain)-1 || claims[g.notes[0]].other {
			continue
		}
		a, before := when(chain[i-1])
		b, after := when(chain[i+1])
		if !before || !after || b <= a {
			continue
		}
		at := a + (b-a)*(g.at-chain[i-1].at)/(chain[i+1].at-chain[i-1].at)
		for _, n := range g.notes {
			claims[n].due = at
		}
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

// notesOf returns the notes of an ornament in order.
func (p *plan) notesOf(ornament string) []int {
	var notes []int
	for _, i := range p.own {
		if p.notes[i].Ornament == ornament {
			notes = append(notes, i)
		}
	}
	return notes
}
