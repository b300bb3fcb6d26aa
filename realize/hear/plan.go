package hear

import (
	"cmp"
	"math"

	"agremens/realize/perf"
	"agremens/realize/sorting"
)

// plan is what is expected, ordered for the alignment.
type plan struct {
	notes   []Note
	own     []int      // indexes of the notes that are to be judged, in order
	groups  []group    // of both hands
	hands   [2][]group // indexed by perf.Hand
	delay   float64    // s, of the loudspeaker
	quarter float64    // seconds a quarter at the tempo asked for or guessed, 0 unknown
}

// group is what is struck at one place.
type group struct {
	at    float64 // quarters
	notes []int
	orn   string // an ornament's name where one of its notes is among them
}

// samePlace is how close two notes stand that are written together, quarters.
const samePlace = 0.012

func newPlan(e Expected) *plan {
	p := &plan{notes: e.Notes}
	for i, n := range e.Notes {
		if n.Key < lowestKey || n.Key > highestKey || math.IsNaN(n.At) || math.Abs(n.At) > 1e5 {
			continue
		}
		if !n.Program {
			p.own = append(p.own, i)
		}
	}
	sorting.Stable(p.own, func(a, b int) int { return cmp.Compare(e.Notes[a].At, e.Notes[b].At) })
	// Of an ornament only the first note has a place in time; when the others
	// come is the player's own affair.
	begun := map[string]bool{}
	p.groups = p.gather(func(n Note) bool {
		inner := n.Ornament != "" && begun[n.Ornament]
		begun[n.Ornament] = true
		return !inner
	})
	for h := range p.hands {
		p.hands[h] = p.gather(func(n Note) bool { return n.Hand == perf.Hand(h) })
	}
	for _, t := range [2]float64{e.Tempo, e.About} {
		if p.quarter == 0 && t >= 5 && t <= 1000 {
			p.quarter = 60 / t
		}
	}
	return p
}

func (p *plan) gather(belongs func(Note) bool) []group {
	var all []group
	for _, i := range p.own {
		n := p.notes[i]
		if !belongs(n) {
			continue
		}
		if k := len(all) - 1; k >= 0 && n.At-all[k].at < samePlace {
			all[k].notes = append(all[k].notes, i)
			if n.Ornament != "" {
				all[k].orn = n.Ornament
			}
			continue
		}
		all = append(all, group{n.At, []int{i}, n.Ornament})
	}
	return all
}

// beyond is how many semitones outside the notes expected the ear listens too.
const beyond = 3

// asked returns the pitches to listen for: all between the lowest and the
// highest expected, so that what is not expected is heard as well.
func (p *plan) asked(also []int) []int {
	if len(p.own) == 0 {
		return nil
	}
	low, high := highestKey, lowestKey
	widen := func(k int) {
		if k >= lowestKey && k <= highestKey {
			low, high = min(low, k), max(high, k)
		}
	}
	for _, n := range p.notes {
		widen(n.Key)
	}
	for _, k := range also {
		widen(k)
	}
	var all []int
	for k := max(lowestKey, low-beyond); k <= min(highestKey, high+beyond); k++ {
		all = append(all, k)
	}
	return all
}
