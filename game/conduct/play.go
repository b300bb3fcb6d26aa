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
	// Enough lets it say what it heard, and Drop forgets it. Either switches
	// the microphone off.
	Enough()
	Drop()
}

// Play begins a round at the piano in which nothing sounds and an ear listens.
// It returns what is to be played, nil where there is nothing.
func (c *Conductor) Play(by Ear) *round.Plan {
	c.Stop()
	c.page.Hush()
	c.Choose(practice.Piano)
	if !c.begun(practice.Piano, by) {
		return nil
	}
	plan, err := c.Session.Plan(Rate)
	if err != nil {
		c.Session = nil
		c.page.Say(c.inWords(err))
		return nil
	}
	c.ear, c.with = by, OnInstrument
	c.Marks, c.Judged = nil, nil
	c.began = c.time.Now()
	c.page.Marked()
	c.nextStep()
	c.page.Waiting(false) // the screen stays awake
	return plan
}

// Light shows on the staff that a note of what is to be played was heard. When
// it came is told at the end.
func (c *Conductor) Light(w *tap.Want) {
	if c.ear == nil {
		return
	}
	at := w.Written.Float()
	c.Marks = append(c.Marks, round.Mark{Note: w.Note, Ornament: w.Ornament, Index: w.Index, Hand: w.Hand, Wanted: at, At: at})
	c.page.Marked()
}

// Played ends it with what was judged of it, and with remarks; where nothing
// was, r is nil and refusal says why.
func (c *Conductor) Played(r *round.Round, remarks []string, refusal string) {
	if c.ear == nil {
		return
	}
	c.ear, c.Marks = nil, nil
	c.page.Ended()
	if r == nil {
		c.Session.Stop(nil, 0)
	} else {
		c.Session.Finished(r, c.lasted())
	}
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
	if c.ear != nil {
		c.ear.Enough()
		return
	}
	c.Stop()
}
