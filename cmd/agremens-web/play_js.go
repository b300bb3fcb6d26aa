package main

import (
	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/game/round"
	"agremens/game/stage"
	"agremens/synth"
	"agremens/web/dom"
)

// waitMS is how long a round waits for the sound device before it says so.
const waitMS = 8000

// pending is a round asked for while the sound is still starting.
type pending struct {
	plan  *round.Plan
	since float64
}

// start begins a round: to tap or only to listen.
func (a *app) start(tapping bool) {
	a.stop()
	a.hush()
	a.sound.open()
	go a.findOutput()
	if a.sound.failed != nil {
		a.say(a.words.Say("The sound could not be started: {error}. Reload the page, or try another browser.", "{error}", a.sound.failed.Error()))
		return
	}
	if tapping {
		a.startKind()
		return
	}
	plan, err := a.desk.Plan(false, sampleRate)
	if err != nil {
		a.say(a.inWords(err))
		return
	}
	a.await(plan)
}

// await lets a plan begin as soon as the sound runs.
func (a *app) await(plan *round.Plan) {
	a.taps = nil
	a.setWide(1)
	a.mark(a.layout)
	a.view.result = desk.ResultWords{}
	a.pending = &pending{plan: plan, since: dom.Now()}
	a.setState("counting")
	a.status(a.words.Say("Starting the sound …"))
	if plan.Settings.Tap != round.NoHand {
		dom.Focus("pad")
	}
	dom.WakeLock(true)
	a.show()
	a.tick()
}

// begin starts the pending round as soon as the clock is sure.
func (a *app) begin(now float64) {
	p := a.pending
	if !a.sound.running(p.plan.Settings.Tap != round.NoHand, now-p.since) {
		if now-p.since > waitMS {
			a.pending = nil
			a.setState("ready")
			if failed := dom.AudioFailed(); failed != "" {
				a.say(a.words.Say("The sound could not be started: {error}. Reload the page, or try another browser.", "{error}", failed))
				return
			}
			a.say(a.words.Say("The sound output does not respond. Check that the device is not muted or in use, then try again."))
		}
		return
	}
	a.pending = nil
	if err := a.sound.engine.SetInstrument(synth.Instrument(a.desk.Instrument)); err != nil {
		a.say(a.words.Tell(err))
	}
	a.sound.engine.SetTuning(a.desk.Tuning())
	collectorOff()
	frame := a.sound.engine.Play(p.plan.Sequence)
	a.round = round.Start(p.plan, frame, a.sound.clock, a.lead())
	a.log.began = now
	a.status(a.stepLine())
}

// stop ends whatever sounds; a tapping round shows its result.
func (a *app) stop() {
	a.pending = nil
	if a.round != nil {
		a.round.Stop(dom.Now(), a.sound.clock)
	}
	if a.kinds.session != nil {
		a.kinds.session.Stop(a.round, a.lasted())
	}
	if a.round != nil || a.kinds.session != nil {
		a.finish()
	}
}

// finish puts a round away. A session goes on, or shows what came of it.
func (a *app) finish() {
	r := a.round
	a.round = nil
	a.sound.engine.Stop()
	collectorOn()
	dom.WakeLock(false)
	switch {
	case a.kinds.session == nil:
		a.setState("ready")
		a.finished()
		a.show()
		a.askHeard()
		stage.Refresh()
	default:
		if !a.kinds.session.Over() {
			a.kinds.session.Finished(r, a.lasted())
		}
		a.nextStep()
	}
}

// tick moves everything on: the clock, a pending start, the round.
func (a *app) tick() {
	a.sound.poll()
	now := dom.Now()
	a.tickCalibration(now)
	if a.pending != nil {
		a.begin(now)
	}
	if a.round == nil {
		return
	}
	a.watchPause()
	switch state := a.round.Tick(now, a.sound.clock); state {
	case round.Result:
		a.finish()
	default:
		a.setState(string(state))
		stage.Refresh()
	}
}

func (a *app) inWords(err error) string {
	switch err {
	case round.ErrNoMeasures:
		return a.words.Say("Choose at least one bar.")
	case round.ErrNothing:
		return a.words.Say("There is nothing to tap for this hand in the chosen bars. Choose the other hand or other bars.")
	}
	return a.words.Tell(err)
}

// resound lets what sounds follow the desk from the next beat on. A tapping
// round keeps what it began with.
func (a *app) resound() {
	if a.round == nil || a.round.Plan().Settings.Tap != round.NoHand {
		return
	}
	plan, err := a.soundingPlan()
	if err != nil {
		return
	}
	join := a.round.JoinAt(plan, a.sound.engine.Rendered())
	if err := a.sound.engine.SetInstrumentAt(synth.Instrument(a.desk.Instrument), join.At); err != nil {
		a.say(a.words.Tell(err))
	}
	a.sound.engine.SetTuningAt(a.desk.Tuning(), join.At)
	a.round.Take(plan, a.sound.engine.ReplaceFrom(plan.Sequence, join.At, join.From), join)
}

// tapping reports whether a tapping round runs or is about to.
func (a *app) tapping() bool {
	switch {
	case a.round != nil:
		return a.round.Plan().Settings.Tap != round.NoHand
	case a.pending != nil:
		return a.pending.plan.Settings.Tap != round.NoHand
	}
	return false
}

// taps turns the marks of a round into those of the staff.
func taps(marks []round.Mark) []engrave.Tap {
	out := make([]engrave.Tap, len(marks))
	for i, m := range marks {
		out[i] = engrave.Tap{
			Note: m.Note, Ornament: m.Ornament, Index: m.Index,
			Wanted: m.Wanted, At: m.At, Missed: m.Missed, Staff: int(m.Hand) + 1,
		}
	}
	return out
}
