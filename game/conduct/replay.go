package conduct

import "agremens/game/round"

// replay is one thing to be heard of a round that is shown.
type replay struct {
	plan *round.Plan
	line string
}

// HearMine lets be heard what was tapped in the round that is shown, and then
// how it goes: of the measure with the ornament, or of the first one. What is
// shown stays. It reports whether there is anything to hear.
func (c *Conductor) HearMine(ornament string) bool {
	j := c.Judged
	if j == nil || c.Busy() {
		return false
	}
	mine, asItGoes, ok := j.Round.Replay(max(0, j.Round.NoteAt(ornament)))
	if !ok {
		return false
	}
	c.page.Hush()
	if err := c.sound.Open(); err != nil {
		return false
	}
	c.hearing = true
	c.replay = []replay{{mine, c.words.Say("This is what you tapped.")}, {asItGoes, c.words.Say("And this is how it goes.")}}
	return c.hearNext()
}

// Hearing reports whether what was tapped is heard again, or how it goes.
func (c *Conductor) Hearing() bool { return c.hearing }

// hearNext begins what is still to be heard, and reports whether anything is.
func (c *Conductor) hearNext() bool {
	if len(c.replay) == 0 {
		return false
	}
	c.wait(c.replay[0].plan)
	return true
}

// line is what is said when something begins to sound.
func (c *Conductor) line() string {
	if len(c.replay) > 0 {
		line := c.replay[0].line
		c.replay = c.replay[1:]
		return line
	}
	return c.stepLine()
}

// afterwards is the state after something was only heard: what a round came to
// is shown again where it was.
func (c *Conductor) afterwards() round.State {
	if c.hearing {
		c.hearing = false
		return round.Result
	}
	return round.Ready
}
