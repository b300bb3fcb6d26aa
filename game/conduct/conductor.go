// Package conduct leads a round from the press of a button to its outcome: it
// waits for the sound, begins, follows the clock, lets what sounds follow the
// desk, goes on to the next step and tells what came of it. It is pure: sound,
// page and time are handed in.
package conduct

import (
	"agremens/game/desk"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/tap"
	"agremens/realize/words"
)

// Conductor leads at most one round at a time, on one desk. Make one with
// [New]. Its exported fields are for reading, but for Desk and Players.
type Conductor struct {
	// Desk is what rounds are played on. [Conductor.Stop] comes before another.
	Desk *desk.Desk
	// Players are the first names for a round that goes from one to the next.
	Players []string

	State   round.State
	Round   *round.Round      // what sounds, nil nothing
	Session *practice.Session // the kind of round under way, nil none
	Kind    string            // key of the kind that is chosen
	Next    practice.Next     // what the last outcome led to
	Said    string            // what the last answer revealed
	Result  desk.ResultWords
	Marks   []round.Mark // the last round's taps
	// Judged is the round whose outcome is shown and what it came to, nil where
	// there is none or it does not count.
	Judged *Judged
	// Rungs are the steps of the climb under way or that is shown.
	Rungs []practice.Rung

	sound Sound
	page  Page
	host  Host
	time  Time
	words *words.Catalogue

	pending *pending
	heard   func() (*round.Plan, error) // lays out anew what is listened to
	clean   row
	before  float64  // per cent of the tempo before a slower step; 0 none was taken
	with    string   // what was tapped on last
	began   float64  // when the sound began, ms
	held    bool     // the sound is paused, and that was said
	replay  []replay // what is still to be heard of the round that is shown
	hearing bool     // a replay sounds, or is about to
	ear     Ear      // hears what is played, nil nothing
	enough  bool     // the player ended what is heard
}

// Judged is a round and its result.
type Judged struct {
	Round  *round.Round
	Result *tap.Result
	Apart  bool // two players tapped, a hand each
}

// pending is a round that waits for the sound.
type pending struct {
	plan  *round.Plan
	since float64 // ms
}

// New returns a conductor at rest. c is the language of what it says.
func New(s Sound, p Page, h Host, t Time, c *words.Catalogue) *Conductor {
	return &Conductor{State: "loading", Kind: practice.Tap, sound: s, page: p, host: h, time: t, words: c}
}

// Busy reports whether anything sounds, is about to, or waits for an answer.
func (c *Conductor) Busy() bool { return c.Sounding() || c.Session != nil }

// Sounding reports whether a round sounds or is about to.
func (c *Conductor) Sounding() bool { return c.Round != nil || c.pending != nil }

// Ready tells that the page can be used.
func (c *Conductor) Ready() { c.setState(round.Ready) }

// Clear takes away all that the last round came to, before something new is
// shown: nothing of it may stand under that.
func (c *Conductor) Clear() {
	if c.hearing {
		c.Stop()
	}
	c.clear()
	c.Next, c.Said = practice.Next{}, ""
}

// Forget is Clear on a page that goes on showing the same desk.
func (c *Conductor) Forget() {
	c.Clear()
	c.page.Marked()
	if c.State == round.Result {
		c.setState(round.Ready)
	}
	c.page.Show()
	c.page.Refresh()
}

// clear takes away what the last round came to.
func (c *Conductor) clear() { c.Marks, c.Judged, c.Result, c.Rungs = nil, nil, desk.ResultWords{}, nil }

// ForgetMarks takes the taps of the last round off the staff.
func (c *Conductor) ForgetMarks() { c.Marks = nil }

// plan is the plan of what sounds or is about to, nil for none.
func (c *Conductor) plan() *round.Plan {
	switch {
	case c.Round != nil:
		return c.Round.Plan()
	case c.pending != nil:
		return c.pending.plan
	}
	return nil
}

// Tapping reports whether a tapping round sounds or is about to.
func (c *Conductor) Tapping() bool {
	p := c.plan()
	return p != nil && c.ear == nil && p.Settings.Tap != round.NoHand
}

// Hand is the hand that taps, or would.
func (c *Conductor) Hand() round.Hands {
	if c.Tapping() {
		return c.plan().Settings.Tap
	}
	return c.Desk.Tap
}

// Place is where the round stands in the passage when what is drawn now is
// seen; ok is false where nothing sounds.
func (c *Conductor) Place() (at round.Place, ok bool) {
	if c.Round == nil {
		return round.Place{}, false
	}
	return c.Round.Place(c.time.Now()+c.sound.PictureMS(), c.sound.Clock())
}

func (c *Conductor) setState(s round.State) {
	if s != c.State {
		c.State = s
		c.page.State(s, c.Tapping())
	}
}

func (c *Conductor) lasted() float64 { return (c.time.Now() - c.began) / 1000 }

func (c *Conductor) inWords(err error) string {
	switch err {
	case round.ErrNoMeasures:
		return c.words.Say("Choose at least one bar.")
	case round.ErrNothing:
		return c.words.Say("There is nothing to tap for this hand in the chosen bars. Choose the other hand or other bars.")
	}
	return c.words.Tell(err)
}
