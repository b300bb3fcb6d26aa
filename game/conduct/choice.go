package conduct

import "agremens/game/practice"

// Choose chooses a kind of round; what is no kind leaves the one there is.
func (c *Conductor) Choose(kind string) {
	if _, ok := practice.Find(kind); ok {
		c.Kind, c.Next, c.Said = kind, practice.Next{}, ""
		c.host.Chosen(kind)
	}
}

// TakeNext begins the round that the last outcome led to.
func (c *Conductor) TakeNext() {
	n := c.Next
	if n.Kind == "" {
		return
	}
	switch {
	case n.Times == 0 && c.before > 0:
		c.Desk.SetPercent(c.before)
		c.before = 0
	case n.Times > 0 && n.Times != 1:
		if c.before == 0 {
			c.before = c.Desk.Percent
		}
		c.Desk.SetPercent(c.Desk.Percent * n.Times)
	}
	c.Choose(n.Kind)
	c.host.Keep()
	c.Tap()
}

// Answer answers the question of the step under way with its i-th option, or
// counts a vote for it.
func (c *Conductor) Answer(i int) {
	step, ok := c.Step()
	if !ok || i < 0 || i >= len(step.Options) {
		return
	}
	switch step.Act {
	case practice.Count:
		c.Session.Answer(i)
		c.page.Show()
	case practice.Ask:
		c.Said = step.Reveal
		if step.Right == i {
			c.Said = c.words.Say("Yes. {why}", "{why}", step.Reveal)
		}
		c.Session.Answer(i)
		c.nextStep()
	case practice.Compare:
		c.Session.Answer(i)
		c.nextStep()
	}
}

// GoOn tells that everybody is ready, that a vote is closed, or that enough was
// compared.
func (c *Conductor) GoOn() {
	if step, ok := c.Step(); ok && (step.Act == practice.Wait || step.Act == practice.Count || step.Act == practice.Compare) {
		if step.Act == practice.Compare {
			c.Said = "" // it was read
		}
		c.Session.Ready()
		c.nextStep()
	}
}
