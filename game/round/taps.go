package round

import (
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// Keys held so long, so often, are held on purpose: a tap on a key or on glass
// lasts about a tenth of a second (from memory).
const (
	heldMS    = 200
	heldLeast = 3
)

// Tap takes a tap at a time in milliseconds of the page, the event's own.
func (r *Round) Tap(at float64, hand perf.Hand) { r.Press(tap.Tap{At: at, Hand: hand}, "") }

// Press takes a key, finger or key of an instrument going down. id tells it
// from others, so that [Round.Release] finds it; "" is never released.
func (r *Round) Press(t tap.Tap, id string) {
	if r.plan.Settings.Tap == NoHand || r.state != Counting && r.state != Tapping {
		return
	}
	switch r.plan.Settings.Tap {
	case RightHand:
		t.Hand = perf.Right
	case LeftHand:
		t.Hand = perf.Left
	}
	if id != "" {
		if r.down == nil {
			r.down = map[string]int{}
		}
		r.down[id] = len(r.taps)
	}
	r.taps = append(r.taps, t)
}

// Release takes a key, finger or key of an instrument going up.
func (r *Round) Release(at float64, id string) {
	i, ok := r.down[id]
	if !ok {
		return
	}
	delete(r.down, id)
	if at > r.taps[i].At {
		r.taps[i].Until = at
	}
}

// Taps returns every tap so far, counting in included.
func (r *Round) Taps() []tap.Tap { return r.taps }

// Judged returns what a finished round was judged on: the wants with the
// times at which they were heard, the taps, and the spans of doubt.
func (r *Round) Judged() (wants []tap.Want, taps []tap.Tap, gaps []tap.Span) {
	return r.wants, r.made, r.doubtful
}

// judged leaves out taps made while counting in: up to half a beat before the
// first onset, at most a third of a second.
func (r *Round) judged(wants []tap.Want) []tap.Tap {
	if len(wants) == 0 {
		return nil
	}
	from := wants[0].At - min(r.plan.BeatMS/2, 333)
	var taps []tap.Tap
	for _, t := range r.taps {
		if t.At >= from {
			taps = append(taps, t)
		}
	}
	return taps
}

// holds reports whether the player holds keys, or only touches them: only who
// holds is told that a key came up too soon.
func holds(taps []tap.Tap) bool {
	n := 0
	for _, t := range taps {
		if t.Key > 0 && t.Until > 0 || t.Until-t.At >= heldMS {
			n++
		}
	}
	return n >= heldLeast
}
