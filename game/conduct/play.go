package conduct

import (
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/tap"
)

// OnInstrument is what was played on where the page listened.
const OnInstrument = "instrument"

// Ear hears an instrument until it is told that this is enough.
type Ear interface {
	// Listen lets it hear what a plan asks for, and calls begun as soon as it
	// does: what sounds meanwhile begins then.
	Listen(p *round.Plan, begun func())
	// Enough lets it say what it heard, and Drop forgets it. Either switches
	// the microphone off. steady is false where the page's own sound broke off
	// on the way, or stuttered.
	Enough(steady bool)
	Drop()
}

// Play begins a kind of round in which an ear listens, while nothing sounds or
// the program plays along. It returns what is to be played, nil where there is
// nothing.
func (c *Conductor) Play(by Ear, kind string, meanwhile practice.Meanwhile) *round.Plan {
	c.Stop()
	c.page.Hush()
	if meanwhile != practice.Silence && !c.open() {
		return nil
	}
	c.Choose(kind)
	if !c.begun(kind, by, meanwhile) {
		return nil
	}
	c.ear, c.with, c.enough = by, OnInstrument, false
	c.page.Waiting(false) // the screen stays awake
	return c.listenOn()
}

// listenOn does the session's next step, which is played and heard.
func (c *Conductor) listenOn() *round.Plan {
	plan, err := c.Session.Plan(Rate)
	if err != nil {
		c.Session, c.ear = nil, nil
		c.page.Ended()
		c.page.Say(c.inWords(err))
		return nil
	}
	c.clear()
	c.Rungs = c.Session.Rungs()
	c.began = c.time.Now()
	c.page.Marked()
	c.page.Still()
	c.setState(round.Ready)
	c.page.Status("")
	c.page.Show() // the step's line, too
	c.page.Asked()
	c.page.Refresh()
	session := c.Session
	c.ear.Listen(plan, func() {
		if c.Session == session && len(plan.Sequence.Clicks) > 0 {
			c.wait(plan)
		}
	})
	return plan
}

// Light shows on the staff that a note of what is to be played was heard. When
// it came is told at the end.
func (c *Conductor) Light(w *tap.Want) {
	if c.ear == nil || c.Session == nil {
		return
	}
	at := w.Written.Float()
	c.Marks = append(c.Marks, round.Mark{Note: w.Note, Ornament: w.Ornament, Index: w.Index, Hand: w.Hand, Wanted: at, At: at})
	c.page.Marked()
}

// Played tells what was judged of it, and remarks; where nothing was, r is nil
// and refusal says why. Then the session goes on, or ends.
func (c *Conductor) Played(r *round.Round, remarks []string, refusal string) {
	if c.ear == nil || c.Session == nil {
		return
	}
	c.hush()
	c.Marks = nil
	switch {
	case r == nil:
		c.Session.Stop(nil, 0)
	case c.enough && c.Session.Kind.Key != practice.Piano:
		c.Session.Stop(r, c.lasted())
	default:
		c.Session.Finished(r, c.lasted())
		if !c.Session.Over() {
			c.nextStep()
			return
		}
	}
	c.ear = nil
	c.page.Ended()
	c.endSession()
	if r == nil {
		c.page.Marked()
		c.Result.Summary = refusal
		c.Next = practice.Next{Kind: practice.Tap, Times: 1, Label: c.words.Say("Tap instead")}
		c.setState(round.Result)
	}
	c.Result.Notes = append(c.Result.Notes, remarks...)
	c.page.Show()
}

// Enough ends a round as the player wishes: what was played so far is judged.
// Everything else it stops.
func (c *Conductor) Enough() {
	if step, ok := c.Step(); c.ear == nil || !ok || step.Act != practice.Play {
		c.Stop()
		return
	}
	c.enough = true
	c.quiet()
}

// quiet ends what sounds while an ear listens, and has what it heard judged.
func (c *Conductor) quiet() {
	steady := c.Round == nil || c.Round.Gaps() == 0
	if c.hush() {
		c.setState(round.Ready)
		c.page.Status("")
	}
	c.ear.Enough(steady)
	c.page.Show()
}

// hush ends what sounds while an ear listens, and reports whether anything did.
func (c *Conductor) hush() bool {
	if !c.Sounding() {
		return false
	}
	c.Round, c.pending = nil, nil
	c.sound.Stop()
	return true
}
