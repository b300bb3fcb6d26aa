package takedown

import "math"

// located is an ornament found among strikes.
type located struct {
	keys    []int
	at      []float64 // quarters from the beat
	quarter float64   // s
	alone   bool
}

// Where a strike may stand for a printed note: within near quarters, but not
// more than nearS seconds. spread is how far players usually are from a steady
// beat there, s. From what pianists do around ornaments, from memory.
const (
	near   = 0.3
	nearS  = 0.15
	spread = 0.035
)

// reckoning is where a tempo and a beat put the printed notes.
type reckoning struct{ beat, quarter float64 }

// match pairs printed notes with strikes: of says for each printed note which,
// -1 none. Each strike stands for one note at most.
func (p Place) match(s []Strike, r reckoning) (of []int, value float64) {
	of = make([]int, len(p.Around))
	used := make([]bool, len(s))
	tolerance := min(near*r.quarter, nearS)
	first, last := math.Inf(1), math.Inf(-1)
	from := 0
	for j, n := range p.Around {
		of[j] = -1
		at := r.beat + n.At*r.quarter
		best := tolerance
		for from < len(s) && s[from].At < at-2*nearS-tolerance {
			from++
		}
		for i := from; i < len(s) && s[i].At <= at+tolerance; i++ {
			if d := math.Abs(s[i].At - at); s[i].Key == n.Key && !used[i] && d <= best {
				best, of[j] = d, i
			}
		}
		if i := of[j]; i >= 0 {
			used[i] = true
			value += 2 - best*best/(2*spread*spread*2)
			first, last = min(first, n.At), max(last, n.At)
		}
	}
	for j, n := range p.Around {
		if of[j] < 0 && n.At > first && n.At < last {
			value -= 0.7
		}
	}
	until := r.beat + p.Length*r.quarter
	for i := range s {
		if used[i] {
			continue
		}
		if at := s[i].At; at < r.beat-0.6*r.quarter || at > until || s[i].Key < p.Lowest || s[i].Key > p.Highest {
			value -= 1
		}
	}
	if p.About > 0 {
		off := math.Log(r.quarter*p.About/60) / 0.35
		value -= off * off / 2
	}
	return of, value
}

// Tempos a beginner or a virtuoso may take: s of a quarter.
const (
	shortest = 0.15
	longest  = 4.0
)

// locate finds the ornament in a take. Tempo and beat are those under which
// most of the printed notes come at their times; two of them give a guess.
func (p Place) locate(s []Strike) located {
	if len(s) == 0 {
		return located{}
	}
	type pair struct{ strike, note int }
	var pairs []pair
	for j, n := range p.Around {
		for i := range s {
			if s[i].Key == n.Key {
				pairs = append(pairs, pair{i, j})
			}
		}
	}
	const mostPairs = 260
	if len(pairs) > mostPairs { // the nearest to the beat tell most
		kept := pairs[:0]
		for reach := 8.0; ; reach /= 1.5 {
			kept = kept[:0:0]
			for _, a := range pairs {
				if math.Abs(p.Around[a.note].At) <= reach {
					kept = append(kept, a)
				}
			}
			if len(kept) <= mostPairs || reach < 0.5 {
				break
			}
		}
		pairs = kept[:min(len(kept), mostPairs)]
	}
	best, value := reckoning{}, math.Inf(-1)
	try := func(a, b float64, sa, sb Strike) {
		if b-a < 0.24 {
			return
		}
		q := (sb.At - sa.At) / (b - a)
		if q < shortest || q > longest || p.About > 0 && math.Abs(math.Log(q*p.About/60)) > 1.3 {
			return
		}
		r := reckoning{sa.At - a*q, q}
		if _, v := p.match(s, r); v > value {
			best, value = r, v
		}
	}
	for _, a := range pairs {
		for _, b := range pairs {
			try(p.Around[a.note].At, p.Around[b.note].At, s[a.strike], s[b.strike])
		}
	}
	// The ornament's own first note may be the only one before the next.
	for _, b := range pairs {
		if n := p.Around[b.note]; n.At > 0 {
			try(0, n.At, s[0], s[b.strike])
		}
	}
	l := located{}
	if math.IsInf(value, -1) {
		q := 0.75
		if p.About > 0 {
			q = 60 / p.About
		}
		best, l.alone = reckoning{s[0].At, q}, true
	}
	for range 3 {
		best = p.refined(s, best)
	}
	of, _ := p.match(s, best)
	matched := 0
	for _, i := range of {
		if i >= 0 {
			matched++
		}
	}
	l.alone = l.alone || matched < 2
	l.quarter = best.quarter
	for _, i := range p.own(s, best, of) {
		l.keys = append(l.keys, s[i].Key)
		l.at = append(l.at, (s[i].At-best.beat)/best.quarter)
	}
	return l
}

// refined is a reckoning by all the printed notes that it finds, the nearest
// counting most: tempo changes along the way, and the beat is what the notes
// around it say. The other hand's note on the beat says most of all.
func (p Place) refined(s []Strike, r reckoning) reckoning {
	of, _ := p.match(s, r)
	var w, x, y, xx, xy float64
	for j, i := range of {
		if i < 0 {
			continue
		}
		at := p.Around[j].At
		weight := math.Exp(-math.Abs(at) / 2)
		if at == 0 {
			weight = 4
		}
		w, x, y = w+weight, x+weight*at, y+weight*s[i].At
		xx, xy = xx+weight*at*at, xy+weight*at*s[i].At
	}
	if det := w*xx - x*x; w > 0 && det > 1e-6*w*w {
		q := (w*xy - x*y) / det
		if q > 0.7*r.quarter && q < 1.4*r.quarter {
			return reckoning{(y - q*x) / w, q}
		}
	}
	return r
}

// own returns the strikes that are the ornament's: those that no printed note
// explains, after the hand's note before it and before its next.
func (p Place) own(s []Strike, r reckoning, of []int) []int {
	printed := make([]bool, len(s))
	lead := max(-1, -0.75*p.Length-0.5)
	before, next := r.beat+lead*r.quarter, r.beat+(p.Length+0.02)*r.quarter
	for j, i := range of {
		if i < 0 {
			continue
		}
		printed[i] = true
		n := p.Around[j]
		if n.Same && n.At < 0 {
			before = max(before, s[i].At)
		}
		if n.Same && n.At > 0 && n.At >= p.Length-0.01 {
			next = min(next, s[i].At-0.02)
		}
	}
	// A chord's other keys, struck together with its principal, are no notes
	// of the ornament.
	chord := map[int]bool{}
	if !p.Spread {
		for _, k := range p.Chord {
			best, at := 0.12, -1
			for i := range s {
				if d := math.Abs(s[i].At - r.beat); !printed[i] && s[i].Key == k && d < best {
					best, at = d, i
				}
			}
			if at >= 0 {
				chord[at] = true
			}
		}
	}
	// A key that both hands have on the beat is struck once.
	for j, i := range of {
		if n := p.Around[j]; i >= 0 && !n.Same && n.At == 0 && n.Key >= p.Key-2 && n.Key <= p.Key+2 {
			printed[i] = p.entered(s, printed, r.beat)
		}
	}
	var own []int
	for i := range s {
		if printed[i] || chord[i] || s[i].At <= before || s[i].At >= next || s[i].Key < p.Lowest || s[i].Key > p.Highest {
			continue
		}
		own = append(own, i)
	}
	own = p.believed(s, own)
	return own[:min(len(own), mostNotes)]
}

// entered reports whether a key of the ornament's is struck on its beat or not
// long before it.
func (p Place) entered(s []Strike, printed []bool, beat float64) bool {
	for i := range s {
		if !printed[i] && math.Abs(s[i].At-beat) < together && s[i].Key >= p.Lowest && s[i].Key <= p.Highest {
			return true
		}
	}
	return false
}
