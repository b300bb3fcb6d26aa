package main

import (
	"strconv"

	"agremens/game/calibration"
	"agremens/game/desk"
	"agremens/game/look"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/stage"
	"agremens/web/dom"
)

// startKind begins a session of the chosen kind.
func (a *app) startKind() {
	m := practice.On(a.desk)
	m.Names = practice.ParseNames(dom.Value("round-players"))
	m.Seed = uint64(dom.Now() * 1000)
	m.Lead = a.sound.lead
	m.Settings.Keys = a.log.with == onMIDI
	s, err := practice.Start(a.kinds.key, m)
	if err != nil {
		a.say(a.inWords(err))
		return
	}
	a.kinds.session, a.kinds.next, a.kinds.said = s, practice.Next{}, ""
	a.view.result = desk.ResultWords{}
	if s.Kind.Covered {
		a.changed()
	}
	dom.SetData("stage", "big", yes(a.kinds.key == practice.Clap))
	a.nextStep()
}

// nextStep does the session's next step, or shows what came of it all.
func (a *app) nextStep() {
	step, ok := a.kinds.session.Step()
	if !ok {
		a.endSession()
		return
	}
	if !step.Act.Sounds() {
		a.setState("ready")
		a.status("")
		a.show()
		dom.Focus("round")
		stage.Refresh()
		return
	}
	plan, err := a.kinds.session.Plan(sampleRate)
	if err != nil {
		a.kinds.session = nil
		a.setState("ready")
		a.say(a.inWords(err))
		a.changed()
		return
	}
	if step.Still {
		a.camera.scroll = a.layout.Left - a.layout.HeadWidth - look.Margin
	}
	a.await(plan)
}

// endSession shows what came of a session, and keeps it.
func (a *app) endSession() {
	s := a.kinds.session
	a.kinds.session = nil
	place := a.desk.ID + " " + a.desk.Bars()
	if a.kinds.rowOf != place {
		a.kinds.row, a.kinds.rowOf = 0, place
	}
	o := s.Outcome(a.kinds.row)
	a.kinds.row, a.kinds.next = o.Row, o.Next
	dom.SetData("stage", "big", "")
	if c, ok := s.Climb(); ok && c.Round > 0 {
		a.desk.SetBeats(c.Tempo) // it goes on from there
		a.keep()
	}
	if s.Kind.Covered {
		a.changed()
	}
	if a.kinds.said != "" {
		o.Words.Notes = append([]string{a.kinds.said}, o.Words.Notes...)
		a.kinds.said = ""
	}
	a.view.result = o.Words
	if o.Result != nil {
		a.judgedWords(o)
	}
	a.status("")
	if o.Words.Summary != "" || o.Words.Figures != "" {
		a.setState("result")
	} else {
		a.setState("ready")
	}
	a.keepRecords(o.Records)
	a.show()
	a.askHeard()
	stage.Refresh()
}

// keepRecords puts what was done into the log.
func (a *app) keepRecords(records []round.Record) {
	a.log.fresh = 0
	for _, c := range records {
		c.Passage = a.passageKey()
		c.Judged = c.Judged && a.sound.clock.Status().Exact
		a.record(c, !a.desk.Ornaments)
		if c.Kind == practice.Piano && c.Seconds >= leastAtPiano {
			a.addPiano(max(1, int(c.Seconds/60+0.5)))
		}
	}
}

// leastAtPiano is how many seconds at the piano are worth a line in the log.
const leastAtPiano = 30

// judgedWords adds what the machine itself knows about a judgement.
func (a *app) judgedWords(o practice.Outcome) {
	_, measured := a.delays.book.Find(a.delays.output)
	if hint := calibration.Hint(o.Result, measured, a.words); hint != "" {
		a.view.result.Notes = append(a.view.result.Notes, hint)
	}
	if !a.sound.clock.Status().Exact {
		a.view.result = desk.Unjudged(a.view.result, a.words)
		a.kinds.row = 0
		return
	}
	a.taps = taps(o.Marks.Marks())
	a.mark(a.layout)
	if o.Marks != nil {
		a.keyWords(o.Marks)
	}
}

// takeNext starts the round that the result led to.
func (a *app) takeNext() {
	n := a.kinds.next
	if n.Kind == "" {
		return
	}
	switch {
	case n.Times == 0 && a.kinds.before > 0:
		a.desk.SetPercent(a.kinds.before)
		a.kinds.before = 0
	case n.Times > 0 && n.Times != 1:
		if a.kinds.before == 0 {
			a.kinds.before = a.desk.Percent
		}
		a.desk.SetPercent(a.desk.Percent * n.Times)
	}
	a.setKind(n.Kind)
	a.keep()
	a.start(true)
}

// covered reports whether what is played must not be seen now.
func (a *app) covered() bool { return a.kinds.session != nil && a.kinds.session.Kind.Covered }

// rests reports whether the staff stays at rest while the step sounds.
func (a *app) rests() bool {
	step, ok := a.sessionStep()
	return ok && step.Still
}

func (a *app) sessionStep() (*practice.Step, bool) {
	if a.kinds.session == nil {
		return nil, false
	}
	return a.kinds.session.Step()
}

// stepLine is what is to be done now, for the status line; a plain round needs
// none.
func (a *app) stepLine() string {
	step, ok := a.sessionStep()
	if !ok || a.kinds.session.Kind.Key == practice.Tap {
		return ""
	}
	at, of := a.kinds.session.Place()
	if of == 1 || step.Act == practice.Loop {
		return step.Line + "."
	}
	return a.words.Say("{n} of {all}. {step}.", "{n}", strconv.Itoa(at), "{all}", strconv.Itoa(of), "{step}", step.Line)
}

// lead is what is known of the player's lead.
func (a *app) lead() *float64 {
	if a.kinds.session != nil {
		return a.kinds.session.Lead()
	}
	return a.sound.lead
}

// lasted is how long the step has sounded, in seconds.
func (a *app) lasted() float64 { return (dom.Now() - a.log.began) / 1000 }

// tapped is the hand that is or would be tapped.
func (a *app) tapped() round.Hands {
	switch {
	case a.round != nil && a.round.Plan().Settings.Tap != round.NoHand:
		return a.round.Plan().Settings.Tap
	case a.pending != nil && a.pending.plan.Settings.Tap != round.NoHand:
		return a.pending.plan.Settings.Tap
	}
	return a.desk.Tap
}

// soundingPlan is the plan of what sounds now, with what was changed on the
// desk since.
func (a *app) soundingPlan() (*round.Plan, error) {
	if a.kinds.session == nil {
		return a.desk.Plan(false, sampleRate)
	}
	step, ok := a.kinds.session.Step()
	if !ok || step.Act != practice.Loop {
		return nil, round.ErrNothing
	}
	a.kinds.session.Adjust(practice.On(a.desk))
	return a.kinds.session.Plan(sampleRate)
}

// clapping reports whether everybody claps to a big staff.
func (a *app) clapping() bool {
	return a.kinds.session != nil && a.kinds.session.Kind.Key == practice.Clap
}
