package conduct

import (
	"agremens/game/round"
	"agremens/synth"
	"agremens/synth/clock"
)

const (
	// WaitMS is how long a round waits for the sound device before it says so.
	WaitMS = 8000
	// sureMS is how long a tapping round waits for a clock it can judge by.
	sureMS = 4000
	// hushMS is how long it is silent before what sounds while an ear listens:
	// what sounded before has died away then.
	hushMS = 1000
)

// Listen plays the desk.
func (c *Conductor) Listen() {
	c.hear(func() (*round.Plan, error) { return c.Desk.Plan(false, Rate) })
}

// Hear plays the selected ornament with the other hand, up to the note it
// lands on, at so many per cent of the goal tempo.
func (c *Conductor) Hear(percent float64) {
	c.hear(func() (*round.Plan, error) { return c.Desk.PlanSign(percent, Rate) })
}

// HearPlan lets be heard what a function lays out.
func (c *Conductor) HearPlan(lay func() (*round.Plan, error)) { c.hear(lay) }

func (c *Conductor) hear(lay func() (*round.Plan, error)) {
	if !c.open() {
		return
	}
	c.heard = lay
	plan, err := lay()
	if err != nil {
		c.page.Say(c.inWords(err))
		return
	}
	c.await(plan)
}

// Tap begins a round of the kind that is chosen.
func (c *Conductor) Tap() { c.TapKind(c.Kind) }

// TapKind begins a round of a kind; the one that is chosen stays chosen.
func (c *Conductor) TapKind(kind string) {
	if c.open() {
		c.startKind(kind)
	}
}

// open ends what sounds and opens the sound.
func (c *Conductor) open() bool {
	c.Stop()
	c.page.Hush()
	if err := c.sound.Open(); err != nil {
		c.page.Say(c.words.Say("The sound could not be started: {error}. Reload the page, or try another browser.", "{error}", err.Error()))
		return false
	}
	return true
}

// await lets a plan begin as soon as the sound runs.
func (c *Conductor) await(plan *round.Plan) {
	c.clear()
	c.wait(plan)
}

// wait lets a plan begin as soon as the sound runs; what is shown stays.
func (c *Conductor) wait(plan *round.Plan) {
	c.pending = &pending{plan: plan, since: c.time.Now()}
	c.setState(round.Counting)
	c.page.Status(c.words.Say("Starting the sound …"))
	c.page.Waiting(c.ear == nil && plan.Settings.Tap != round.NoHand)
	c.page.Marked()
	c.page.Show()
	c.Tick()
}

// begin starts the pending round as soon as the clock is sure enough.
func (c *Conductor) begin(now float64) {
	p := c.pending
	if c.ear != nil && now-p.since < hushMS {
		return
	}
	if !Heard(c.sound.Clock(), now, p.plan.Settings.Tap != round.NoHand, now-p.since) {
		if now-p.since > WaitMS {
			c.giveUp()
		}
		return
	}
	c.pending = nil
	if err := c.sound.SetInstrument(synth.Instrument(c.Desk.Instrument)); err != nil {
		c.page.Say(c.words.Tell(err))
	}
	c.sound.SetTuning(c.Desk.Tuning())
	c.page.Began()
	frame := c.sound.Play(p.plan.Sequence)
	c.Round = round.Start(p.plan, frame, c.sound.Clock(), c.lead())
	c.began = now
	if c.ear != nil { // the step's line is shown
		c.page.Status("")
		return
	}
	c.page.Status(c.line())
}

// giveUp ends the wait for a device that gives no sound.
func (c *Conductor) giveUp() {
	c.Stop()
	if why := c.sound.Failure(); why != "" {
		c.page.Say(c.words.Say("The sound could not be started: {error}. Reload the page, or try another browser.", "{error}", why))
		return
	}
	c.page.Say(c.words.Say("The sound output does not respond. Check that the device is not muted or in use, then try again."))
}

// Heard reports whether sound is really heard now and its time is known: for a
// tapping round well enough to judge by, unless that takes too long. waited is
// for how long it was waited for, in milliseconds.
func Heard(k *clock.Clock, now float64, tapping bool, waited float64) bool {
	if _, ok := k.FrameAt(now); !ok {
		return false
	}
	return !tapping || waited > sureMS || k.Status().Sure
}

// lead is what is known of the player's lead.
func (c *Conductor) lead() *float64 {
	if c.Session != nil {
		return c.Session.Lead()
	}
	return c.sound.Lead()
}
