package main

import (
	"agremens/game/look"
	"agremens/game/round"
	"agremens/game/stage"
	"agremens/web/dom"
)

// Now is the page's time.
func (a *app) Now() float64 { return dom.Now() }

// Say shows a message that stays until it is closed.
func (a *app) Say(text string) { a.say(text) }

// Hush closes the message.
func (a *app) Hush() { a.hush() }

// Status says something in passing.
func (a *app) Status(text string) { a.status(text) }

// Show brings the page up to date.
func (a *app) Show() { a.show() }

// Refresh draws the staff anew.
func (a *app) Refresh() { stage.Refresh() }

// Changed shows what may be seen on the staff.
func (a *app) Changed() { a.changed() }

// Keep keeps the desk.
func (a *app) Keep() { a.keep() }

// State shows the page that belongs to a state of the round.
func (a *app) State(s round.State) {
	dom.SetState(string(s))
	switch {
	case s != round.Counting && s != round.Tapping && s != round.Listening:
		dom.SetRound("")
	case a.rounds.Tapping():
		dom.SetRound("tap")
	default:
		dom.SetRound("listen")
	}
}

// Waiting prepares the page for a round.
func (a *app) Waiting(tapping bool) {
	a.setWide(1)
	if tapping {
		dom.Focus("pad")
	}
	dom.WakeLock(true)
}

// Began keeps the collector away while a round sounds.
func (a *app) Began() { collectorOff() }

// Ended lets it and the screen rest.
func (a *app) Ended() {
	collectorOn()
	dom.WakeLock(false)
}

// Finished asks once whether anything was heard.
func (a *app) Finished() { a.askHeard() }

// Marked shows the taps of the last round.
func (a *app) Marked() { a.mark(a.layout) }

// Asked leads to the question of a step.
func (a *app) Asked() { dom.Focus("round") }

// Still goes to the beginning of the run.
func (a *app) Still() { a.camera.scroll = a.layout.Left - a.layout.HeadWidth - look.Margin }

// Big gives the staff the whole page.
func (a *app) Big(on bool) { dom.SetData("stage", "big", yes(on)) }
