package practice

import "agremens/realize/tap"

// RungMark is what became of a step of the climb.
type RungMark int8

// Marks of a step: behind, clean or not; at hand; to come if all goes well.
const (
	RungClean RungMark = iota
	RungNot
	RungNow
	RungToCome
)

// Rung is one step of a climb.
type Rung struct {
	Tempo float64 // felt beats a minute
	Mark  RungMark
}

// mostToCome is how many steps are foreseen.
const mostToCome = 40

// Rungs returns the climb as its steps: the rounds that count, the one at hand,
// and those that follow if each is clean. nil for other kinds.
func (s *Session) Rungs() []Rung {
	if s.climb.Goal == 0 {
		return nil
	}
	var all []Rung
	for i := range s.done {
		d := &s.done[i]
		r := d.result()
		if r == nil || tap.OutcomeOf(*r).Void {
			continue
		}
		mark := RungNot
		if r.Clean {
			mark = RungClean
		}
		all = append(all, Rung{s.m.Goal * d.Step.Settings.Percent / 100, mark})
	}
	if s.climb.State == tap.Arrived {
		return all
	}
	mark := RungNow
	for c, n := s.climb, 0; c.State != tap.Arrived && n < mostToCome; n++ {
		all = append(all, Rung{c.Tempo, mark})
		mark = RungToCome
		if next := c.Next(tap.Outcome{Clean: true}); next.State != tap.Pause || next.Why != tap.PauseTired {
			c = next
		} else {
			break
		}
	}
	return all
}
