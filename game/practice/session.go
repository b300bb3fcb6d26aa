package practice

import (
	"strings"

	"agremens/game/round"
	"agremens/realize/tap"
	"agremens/realize/words"
)

// Missing says, in a sentence for people, what a kind of round needs and does
// not find on the desk.
type Missing string

func (m Missing) Error() string { return string(m) }

// missing says it in the session's language.
func (s *Session) missing(english string) Missing { return Missing(s.say(english)) }

func (s *Session) words() *words.Catalogue { return s.m.Settings.Words }

func (s *Session) say(english string, fill ...string) string { return s.words().Say(english, fill...) }

// Session is one kind of round under way: a row of steps. Make one with
// [Start]; while [Session.Step] gives a step, do it and tell what came of it.
type Session struct {
	Kind Kind
	m    Material

	steps []Step
	at    int
	done  []Done
	climb tap.Climb
	lead  *float64
	// more gives the steps that follow from what came of the last one.
	more    func(s *Session, d Done) []Step
	stopped bool
}

// Start begins a kind of round on what lies on the desk. An error is a
// [Missing] that says what is not there.
func Start(key string, m Material) (*Session, error) {
	kind, ok := Find(key)
	if !ok {
		return nil, Missing(m.Settings.Words.Say("There is no exercise “{kind}”.", "{kind}", key))
	}
	s := &Session{Kind: kind, m: m, lead: m.Lead}
	begin := map[string]func(*Session) error{
		Tap: (*Session).asSet, Echo: (*Session).echo, One: (*Session).one, Both: (*Session).both,
		Inside: (*Session).insideCount, Plain: (*Session).plainFirst, Grow: (*Session).grow, Land: (*Session).land,
		Alone: (*Session).alone, Trill: (*Session).longTrill, Climb: (*Session).climbUp, Piano: (*Session).piano,
		Which: (*Session).which, Sign: (*Session).sign, First: (*Session).first,
		Two: (*Session).two, Clap: (*Session).clap, Pass: (*Session).pass, Vote: (*Session).vote,
	}[key]
	if err := begin(s); err != nil {
		return nil, err
	}
	return s, nil
}

// Step returns the step to be done now; ok is false when the session is over.
func (s *Session) Step() (step *Step, ok bool) {
	if s.stopped || s.at >= len(s.steps) {
		return nil, false
	}
	return &s.steps[s.at], true
}

// Hears reports whether what is played is listened to: no clock of the sound
// comes into its judgement.
func (s *Session) Hears() bool { return s.m.Heard }

// Over reports whether nothing is left to do.
func (s *Session) Over() bool { _, ok := s.Step(); return !ok }

// Place returns the current step's place, from 1, and how many there are so far.
func (s *Session) Place() (at, of int) { return s.at + 1, len(s.steps) }

// Plan lays out the current step, which must be one that sounds; rate is in
// frames a second.
func (s *Session) Plan(rate int) (*round.Plan, error) {
	step, ok := s.Step()
	if !ok || !step.Act.Sounds() && step.Act != Play {
		return nil, round.ErrNothing
	}
	return step.plan(&s.m, rate)
}

// Lead returns what is known of the player's lead by now, ms, nil unknown.
func (s *Session) Lead() *float64 { return s.lead }

// Adjust takes what was changed on the desk while a loop sounds: its tempo
// and whether the beat clicks.
func (s *Session) Adjust(m Material) {
	if step, ok := s.Step(); ok && step.Act == Loop {
		step.Settings.Percent = m.Settings.Percent
	}
}

// Finished tells that a sounding step came to its end, after so many seconds.
// A round stopped before anything was heard is nil or has no result.
func (s *Session) Finished(r *round.Round, seconds float64) {
	s.next(Done{Round: r, Answer: -1, Seconds: seconds})
}

// Answer answers a question with the i-th option, or counts a vote for it.
func (s *Session) Answer(i int) {
	step, ok := s.Step()
	if !ok || i < 0 || i >= len(step.Options) {
		return
	}
	switch step.Act {
	case Compare:
		o := step.Options[i]
		s.insert(Step{Act: Hear, Line: s.say("This is {label}", "{label}", o.Label), Settings: step.Settings, Still: true, reading: o.reading})
	case Ask:
		s.next(Done{Answer: i})
	case Count:
		if len(s.done) == 0 || s.done[len(s.done)-1].Votes == nil {
			s.done = append(s.done, Done{Step: *step, Answer: -1, Votes: make([]int, len(step.Options))})
		}
		s.done[len(s.done)-1].Votes[i]++
	}
}

// Votes returns what was counted so far.
func (s *Session) Votes() []int {
	if len(s.done) == 0 {
		return nil
	}
	return s.done[len(s.done)-1].Votes
}

// Ready tells that everybody is, or that a vote is closed.
func (s *Session) Ready() {
	switch step, ok := s.Step(); {
	case !ok:
	case step.Act == Count:
		s.at++
	case step.Act == Wait, step.Act == Compare:
		s.next(Done{Answer: -1})
	}
}

// Stop ends the session; what was done so far stands. r is the round that was
// sounding, if one was.
func (s *Session) Stop(r *round.Round, seconds float64) {
	if step, ok := s.Step(); ok && r != nil {
		s.done = append(s.done, Done{Step: *step, Round: r, Answer: -1, Seconds: seconds})
		s.learn(step.Player)
	}
	s.stopped = true
}

func (s *Session) next(d Done) {
	step, ok := s.Step()
	if !ok {
		return
	}
	d.Step = *step
	s.done = append(s.done, d)
	s.at++
	if step.Act == Strike {
		s.learn(step.Player)
		if step.again && !cleanEnough(d) {
			once := *step
			once.again, once.Line = false, s.onceMore(once.Line)
			s.insert(once)
		}
	}
	if s.more != nil {
		s.insert(s.more(s, d)...)
	}
}

// onceMore says a step's line after "once more", where English writes it small.
func (s *Session) onceMore(line string) string {
	if s.words().Language() == "en" {
		line = strings.ToLower(line[:1]) + line[1:]
	}
	return s.say("Once more: {step}", "{step}", line)
}

func (s *Session) insert(steps ...Step) {
	rest := append([]Step(nil), s.steps[s.at:]...)
	s.steps = append(append(s.steps[:s.at:s.at], steps...), rest...)
}

// cleanEnough reports whether a step may be left behind: it was clean, or
// there was too little to tell.
func cleanEnough(d Done) bool {
	r := d.result()
	return r == nil || r.Clean
}

// learn works the player's lead out of the plain notes of all steps together:
// a step of a few notes alone would not tell it.
func (s *Session) learn(player string) {
	s.lead = s.m.Lead
	if r, ok := s.judge(func(d Done) bool { return d.Step.Player == player }, nil); ok && r.Lead.Learned() {
		ms := r.Lead.MS
		s.lead = &ms
	}
}

// judge judges the taps of several steps together.
func (s *Session) judge(use func(Done) bool, lead *float64) (tap.Result, bool) {
	var wants []tap.Want
	var taps []tap.Tap
	o := tap.Options{Lead: lead, Words: s.words()}
	for _, d := range s.done {
		if d.result() == nil || !use(d) {
			continue
		}
		w, t, gaps := d.Round.Judged()
		wants, taps, o.Gaps = append(wants, w...), append(taps, t...), append(o.Gaps, gaps...)
		o.BeatMS, o.Alone, o.Voice = d.Round.Plan().BeatMS, d.Round.Plan().Alone, d.Round.Plan().Settings.Voice
	}
	if len(wants) == 0 {
		return tap.Result{}, false
	}
	return tap.Judge(wants, taps, o), true
}
