package hear

import "math"

// follower guesses while the sound goes on which note an onset is: the first
// of its key at or after the place reached, not far ahead.
type follower struct {
	plan  *plan
	place float64 // quarters
	begun bool
	last  float64 // s
	used  map[int]float64
}

const (
	ahead  = 2.5 // quarters
	behind = 1.0
	redo   = 2.5 // s of silence after which the player may begin anew
)

func (f *follower) guess(s Strike) int {
	p := f.plan
	if f.used == nil || s.At-f.last > redo {
		f.used = map[int]float64{}
		f.begun = false
	}
	f.last = s.At
	best, near := -1, math.Inf(1)
	for _, i := range p.own {
		n := p.notes[i]
		if n.Key != s.Key {
			continue
		}
		if _, done := f.used[i]; done {
			continue
		}
		d := n.At - f.place
		if f.begun && (d > ahead || d < -behind) {
			continue
		}
		if d < 0 {
			d = -2 * d
		}
		if d < near {
			best, near = i, d
		}
	}
	if best < 0 {
		return -1
	}
	f.used[best] = s.At
	if at := p.notes[best].At; !f.begun || at > f.place {
		f.place = at
	}
	f.begun = true
	return best
}
