package conduct

import (
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/synth"
)

// Tick moves everything on to now: the sound's clock, a round that waits, the
// one that sounds. It wants to be called about every 20 ms.
func (c *Conductor) Tick() {
	c.sound.Poll()
	now := c.time.Now()
	if c.pending != nil {
		c.begin(now)
	}
	if c.Round == nil {
		return
	}
	c.watchPause()
	switch state := c.Round.Tick(now, c.sound.Clock()); state {
	case round.Result:
		if c.ear != nil {
			c.quiet()
			return
		}
		c.finish()
	default:
		if c.ear != nil && state == round.Tapping {
			state = round.Listening // it is played and heard
		}
		c.setState(state)
		c.page.Refresh()
	}
}

// watchPause says so while the browser or the device holds the sound: a call,
// another page, a lid that was shut.
func (c *Conductor) watchPause() {
	held := c.sound.Held()
	if held == c.held {
		return
	}
	c.held = held
	words := ""
	if held {
		words = c.words.Say("The sound was interrupted. Tap the page to continue where it stopped.")
	}
	c.page.Status(words)
}

// Stop ends whatever sounds; a tapping round shows its result.
func (c *Conductor) Stop() {
	if c.ear != nil {
		c.ear.Drop()
		c.ear = nil
		c.hush()
		c.page.Ended()
	}
	c.replay = nil
	waited := c.pending != nil
	c.pending = nil
	if c.Round != nil {
		c.Round.Stop(c.time.Now(), c.sound.Clock())
	}
	if c.Session != nil {
		c.Session.Stop(c.Round, c.lasted())
	}
	switch {
	case c.Round != nil || c.Session != nil:
		c.finish()
	case waited: // and nothing was heard
		c.page.Ended()
		c.setState(c.afterwards())
		c.page.Status("")
		c.page.Show()
		c.page.Refresh()
	}
}

// finish puts a round away. A session goes on, or shows what came of it.
func (c *Conductor) finish() {
	r := c.Round
	c.Round = nil
	c.sound.Stop()
	c.page.Ended()
	if c.Session != nil {
		if !c.Session.Over() {
			c.Session.Finished(r, c.lasted())
		}
		c.nextStep()
		return
	}
	if c.hearNext() {
		return
	}
	heard := !c.hearing
	c.setState(c.afterwards())
	if heard {
		c.host.Listened(c.lasted())
	}
	c.page.Show()
	c.page.Finished()
	c.page.Refresh()
}

// Resound lets what sounds follow the desk from the next beat on, and what is
// about to from its beginning. A tapping round keeps what it began with.
func (c *Conductor) Resound() {
	if !c.Sounding() || c.Tapping() || c.hearing || c.ear != nil {
		return
	}
	plan, err := c.soundingPlan()
	if err != nil {
		return
	}
	if c.pending != nil {
		c.pending.plan = plan
		return
	}
	join := c.Round.JoinAt(plan, c.sound.Rendered())
	if err := c.sound.SetInstrumentAt(synth.Instrument(c.Desk.Instrument), join.At); err != nil {
		c.page.Say(c.words.Tell(err))
	}
	c.sound.SetTuningAt(c.Desk.Tuning(), join.At)
	c.Round.Take(plan, c.sound.ReplaceFrom(plan.Sequence, join.At, join.From), join)
}

// soundingPlan is the plan of what sounds now, with what was changed on the
// desk since.
func (c *Conductor) soundingPlan() (*round.Plan, error) {
	if c.Session == nil {
		return c.heard()
	}
	step, ok := c.Session.Step()
	if !ok || step.Act != practice.Loop {
		return nil, round.ErrNothing
	}
	c.Session.Adjust(practice.On(c.Desk))
	return c.Session.Plan(Rate)
}
