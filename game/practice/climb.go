package practice

import (
	"math"
	"strconv"

	"agremens/realize/tap"
)

// comfortable is where a climb starts when the tempo set is the goal already.
const comfortable = 60.0 // per cent

// climbUp starts at the tempo that is set, or at a comfortable one.
func (s *Session) climbUp() error {
	if _, ok := s.m.ornament(); !ok {
		return s.noOrnament()
	}
	start := s.m.Settings.Percent
	if start == 0 || start >= 100 {
		start = comfortable
	}
	if s.m.Heard {
		s.lead = nil // it was found for sound and taps
	}
	s.climb = tap.NewClimb(s.m.Goal*start/100, s.m.Goal)
	s.add(s.climbStep(""))
	s.more = (*Session).climbOn
	return nil
}

// climbStep is the round at the climb's tempo.
//
//words:texts
func (s *Session) climbStep(said string) Step {
	step := Step{Act: Strike, Settings: s.m.whole(s.m.Settings.Tap)}
	if s.m.Heard {
		step = s.listened()
		step.counts = false
	}
	set := &step.Settings
	set.Percent = 100 * s.climb.Tempo / s.climb.Goal
	set.Beat = true
	set.Subdivide = s.climb.Subdivided()
	text := "{tempo} of {goal}"
	if set.Subdivide {
		text = "{tempo} of {goal}, the click divided"
	}
	line := s.say(text, "{tempo}", whole(s.climb.Tempo), "{goal}", whole(s.climb.Goal))
	if said != "" {
		line = said + " " + line
	}
	step.Line = line
	return step
}

// Climb returns how the climb stands; ok is false for other kinds.
func (s *Session) Climb() (c tap.Climb, ok bool) { return s.climb, s.climb.Goal > 0 }

const (
	goOn = iota
	stopForToday
)

// climbOn takes what came of a round and gives the next one, an offered
// pause, or nothing more.
func (s *Session) climbOn(d Done) []Step {
	if d.Step.Act == Ask {
		if d.Answer == goOn {
			return []Step{s.climbStep(s.say("Rested."))}
		}
		return nil
	}
	result := d.result()
	if result == nil {
		return nil
	}
	before := s.climb
	outcome := tap.OutcomeOf(*result)
	s.climb = before.Next(outcome)
	said := s.said(before, outcome)
	if outcome.Void {
		said = result.Summary // why it does not count
	}
	switch s.climb.State {
	case tap.Arrived:
		return nil
	case tap.Pause:
		return []Step{{Act: Ask, Line: said + " " + tap.WordsIn(s.words()).Rest, Right: -1,
			Options: []Option{{Label: s.say("Rested: go on")}, {Label: s.say("Stop for today")}}}}
	}
	return []Step{s.climbStep(said)}
}

// said tells in one sentence what the climb does now, and why.
func (s *Session) said(before tap.Climb, o tap.Outcome) string {
	now := s.climb
	switch {
	case now.Why == tap.PauseTired:
		return tap.WordsIn(s.words()).Tired().Teacher
	case now.Why == tap.PauseUneven:
		return s.say("Three rounds in a row were not even yet.")
	case now.Why == tap.PauseLong:
		return s.say("That was many rounds: time for a pause.")
	case o.Clean && now.Tempo == before.Tempo:
		return s.say("Clean at the goal: once more.")
	case o.Clean:
		return s.say("Clean: a step up.")
	case now.Tempo < before.Tempo:
		return s.say("Not even yet: some steps down.")
	}
	return s.say("Not even yet: the same once more.")
}

func whole(beats float64) string { return strconv.Itoa(int(math.Round(beats))) }

// climbed is what is said when a climb is over.
func (s *Session) climbed() string {
	c := s.climb
	switch {
	case c.State == tap.Arrived:
		return s.say("Arrived: two clean rounds at {goal}, after {n}.", "{goal}", whole(c.Goal), "{n}", strconv.Itoa(c.Round))
	case c.Round == 0:
		return ""
	}
	return s.words().Count(c.Round, "{n} round, from {from} to {to}; the goal is {goal}.", "{n} rounds, from {from} to {to}; the goal is {goal}.",
		"{from}", whole(s.firstTempo()), "{to}", whole(c.Tempo), "{goal}", whole(c.Goal))
}

func (s *Session) firstTempo() float64 {
	for _, d := range s.done {
		if d.Step.Act == Strike || d.Step.Act == Play {
			return s.m.tempo(d.Step.Settings)
		}
	}
	return 0
}

// lastStruck returns the last step that was tapped and judged.
func (s *Session) lastStruck() (Done, bool) {
	for i := len(s.done) - 1; i >= 0; i-- {
		if d := s.done[i]; d.result() != nil {
			return d, true
		}
	}
	return Done{}, false
}
