package practice

import (
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/tap"
)

// Act is what a step is.
type Act int8

// Acts.
const (
	Hear    Act = iota // something is played to its end
	Loop               // something is played again and again until stopped
	Strike             // something is tapped
	Ask                // a question with one answer
	Count              // a vote: each press counts, until done
	Wait               // nothing, until everybody is ready
	Play               // something is played at an instrument, and heard
	Compare            // what was asked for may be heard once more, each option by a press, until ready
)

// Sounds reports whether the step has a plan that sounds.
func (a Act) Sounds() bool { return a == Hear || a == Loop || a == Strike }

// Option is one answer to a question.
type Option struct {
	Label, Detail string
	// Show says what is drawn beside the words, nil for nothing: names differ
	// between countries.
	Show *Show

	reading *realize.Reading // what is heard where it is compared
}

// Show is an ornament to be drawn: its printed sign, or one way to play it.
type Show struct {
	Reading  *realize.Reading
	Ornament string
	Choice   int
	Printed  bool
}

// Step is one step of a session.
type Step struct {
	Act  Act
	Line string // what is to be done now, in one line
	// Settings are those of what is heard or tapped.
	Settings round.Settings
	// Still leaves the staff at rest: no line moves.
	Still bool
	// Player is whose turn it is, "" for anybody.
	Player string
	// Options are the answers of a question; Right is the index of the one
	// that was played, −1 where none is.
	Options []Option
	Right   int
	// Reveal is said once it is answered.
	Reveal string

	reading *realize.Reading // nil is the material's
	plain   bool
	// performed replaces what is performed, shape changes its plan.
	performed func() *perf.Performance
	shape     func(*round.Plan)
	counts    bool // its taps make the result
	again     bool // comes once more where it was not clean
}

// Done is a finished step.
type Done struct {
	Step    Step
	Round   *round.Round // of what sounded
	Answer  int          // index of the option, −1 none
	Votes   []int
	Seconds float64
}

// result returns what was judged of a tapped step, nil where nothing was.
func (d *Done) result() *tap.Result {
	if d.Step.Act != Strike && d.Step.Act != Play || d.Round == nil {
		return nil
	}
	return d.Round.Result()
}

// plan lays out what a step sounds.
func (s *Step) plan(m *Material, rate int) (*round.Plan, error) {
	passage, reading := m.Passage, m.Reading
	if s.reading != nil {
		passage, reading = s.reading.Passage, s.reading
	}
	var sounding *perf.Performance
	switch road := s.Settings.Road(passage); {
	case s.performed != nil:
		s.Settings.Legs = 0
		sounding = s.performed()
	case road != nil:
		sounding = realize.PerformAlong(reading, realize.PerformOptions{Plain: s.plain}, road)
	default:
		sounding = m.sounding(reading, s.plain)
	}
	return build(passage, sounding, names(reading), s, rate)
}

func build(p *score.Passage, sounding *perf.Performance, names map[string]string, s *Step, rate int) (*round.Plan, error) {
	plan, err := round.Build(p, sounding, names, s.Settings, rate)
	if err == nil && s.shape != nil {
		s.shape(plan)
	}
	return plan, err
}
