package main

import (
	"slices"
	"strconv"
	"strings"

	"agremens/game/class"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/stage"
	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/web/dom"
)

// turnMS is how long something works before the browser gets a turn.
const turnMS = 6

// page shows what the studio does: itself what every part of the page shares,
// and the rest through the parts it was given.
type page struct {
	staff    *staff
	rooms    *rooms
	messages []string

	shows    []func() // bring a part up to date each
	lays     []func() // another passage lies on the desk
	finished []func() // the outcome of a round is shown
	kinds    func(kinds []practice.Kind, task bool)
	reports  func(came []class.Came)
	student  func(on bool) // the student's page is open
	who      func()
	kept     func()
	day      func()
	last     func() // the last page of a task
	dayOver  func()
	task     bool
	beat     int // that is shown as counted in, 0 none
}

// State shows the page that belongs to a state of the round.
func (p *page) State(s round.State, tapping bool) {
	dom.SetState(string(s))
	switch {
	case s != round.Counting && s != round.Tapping && s != round.Listening:
		dom.SetRound("")
	case tapping:
		p.toResult()
		dom.SetRound("tap")
	default:
		dom.SetRound("listen")
	}
}

// Say shows a message that stays until it is closed.
func (p *page) Say(text string) {
	if !slices.Contains(p.messages, text) { // once, however often it happens
		p.messages = append(p.messages, text)
	}
	dom.Message(strings.Join(p.messages, "\n"))
}

// Hush closes the message.
func (p *page) Hush() {
	p.messages = nil
	dom.Message("")
}

// Status says something in passing.
func (p *page) Status(text string) { dom.Announce(text) }

// Show brings every part up to date.
func (p *page) Show() {
	for _, show := range p.shows {
		show()
	}
}

// Refresh draws the staff anew.
func (p *page) Refresh() { stage.Refresh() }

// Engrave lays out what is on the desk.
func (p *page) Engrave() { p.staff.engrave() }

// Laid makes ready for another passage.
func (p *page) Laid() {
	p.staff.laid()
	for _, lay := range p.lays {
		lay()
	}
}

// Reveal brings what is selected in sight.
func (p *page) Reveal() { p.staff.reveal() }

// Marked shows the taps of the last round.
func (p *page) Marked() { p.staff.mark(p.staff.layout) }

// Waiting prepares the page for a round.
func (p *page) Waiting(tapping bool) {
	p.staff.setWide(1)
	p.staff.ink = nil
	if tapping {
		dom.Focus("pad")
	}
	dom.WakeLock(true)
}

// count shows the beat that is counted in, large.
func (p *page) count(beat int, ok bool) {
	if !ok {
		beat = 0
	}
	if beat != p.beat {
		p.beat = beat
		text := ""
		if beat > 0 {
			text = strconv.Itoa(beat)
		}
		dom.SetText("count", text)
	}
}

// Began keeps the collector away while a round sounds.
func (p *page) Began() { collectorOff() }

// Ended lets it and the screen rest.
func (p *page) Ended() {
	collectorOn()
	dom.WakeLock(false)
}

// Finished tells the parts that the outcome of a round is shown.
func (p *page) Finished() {
	for _, f := range p.finished {
		f()
	}
}

// Struck shows what was just tapped: ink on the staff, and the hand's key cap.
func (p *page) Struck(down bool, t tap.Tap) {
	dom.SetClass("cap-"+map[perf.Hand]string{perf.Right: "right", perf.Left: "left"}[t.Hand], "down", down)
	if down {
		p.staff.struck(t)
	}
}

// Asked leads to the question of a step.
func (p *page) Asked() {
	p.toResult()
	dom.Focus("round")
}

// toResult goes where a round asks its questions and its result stands.
func (p *page) toResult() {
	if !p.task {
		p.rooms.tapped()
	}
}

// Still goes to the beginning of the run.
func (p *page) Still() { p.staff.toStart() }

// Big gives the staff the whole page.
func (p *page) Big(on bool) { dom.SetData("stage", "big", yes(on)) }

// Student shows the student's page, or the whole desk.
func (p *page) Student(on bool) {
	p.task = on
	dom.SetPage(map[bool]string{true: "student"}[on])
	p.student(on)
}

// Kinds offers kinds of round.
func (p *page) Kinds(kinds []practice.Kind, task bool) { p.kinds(kinds, task) }

// Reports shows the class, and what became of what came.
func (p *page) Reports(came []class.Came) { p.reports(came) }

// Who shows who taps.
func (p *page) Who() { p.who() }

// Kept shows where the last rounds went.
func (p *page) Kept() { p.kept() }

// Day shows where the ten minutes stand.
func (p *page) Day() { p.day() }

// LastPage ends them.
func (p *page) LastPage() {
	if p.task {
		p.last()
		return
	}
	p.dayOver()
}

// Address puts a fragment into the page's address, in place of what it asked for.
func (p *page) Address(fragment string) {
	if fragment != "" {
		fragment = "#" + fragment
	}
	_ = dom.SetAddress(dom.Address() + fragment)
}

// Turn lets the page be drawn, Breathe returns what does so now and then.
func (p *page) Turn() { dom.Yield() }

// Breathe returns what gives the browser a turn now and then.
func (p *page) Breathe() func() { return dom.Breathe(turnMS) }

// Durable asks the browser not to clear the storage by itself.
func (p *page) Durable() { go dom.Keep() }
