package main

import (
	"runtime"

	"agremens/assets"
	"agremens/game/conduct"
	"agremens/game/day"
	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/game/lesson"
	"agremens/game/look"
	"agremens/game/paper"
	"agremens/game/shelf"
	"agremens/game/stage"
	"agremens/realize"
	"agremens/realize/score"
	"agremens/realize/words"
	"agremens/synth"
	"agremens/web/dom"
)

// tickMS is how often the round looks at the clock, in milliseconds.
const tickMS = 20

// app is the running program: one desk, at most one round.
type app struct {
	words    *words.Catalogue // of the page's language
	desk     *desk.Desk
	layout   *engrave.Layout
	marks    []engrave.Item // the last round's taps on the layout in view
	look     look.Look
	wide     int // how far the run is pulled apart, times
	page     pageView
	pictures pictures
	rounds   *conduct.Conductor
	sound    *sound
	camera   camera
	view     view
	// shelf lists the passages kept on the device.
	shelf   shelf.Shelf
	paper   *paper.Form
	typed   typed
	delays  delays
	log     logbook
	today   day.Day
	speed   speed
	openLog func() // opens the sheet with the log
	sheet   taskSheet
	// homework is the task that is open as the student's page, nil on the desk.
	homework *lesson.Homework
	report   string // what the student sends back, in letters
}

func newApp() *app {
	a := &app{sound: newSound()}
	if packed := dom.Texts(); packed != "" {
		a.words, _ = words.Parse([]byte(packed)) // English where they cannot be read
	}
	a.sound.opened = func() { go a.findOutput() }
	a.sound.measured = func() bool { _, ok := a.delays.book.Find(a.delays.output); return ok }
	a.rounds = conduct.New(a.sound, a, a, a, a.words)
	return a
}

// openFirst shows the passage that the address names, else the one that lay
// on the desk last, else the first built-in one.
func (a *app) openFirst() {
	query := dom.Query()
	a.loadShelf()
	saved, _, _ := dom.Load(deskKey)
	id := desk.SavedPassage(saved)
	asked, ok := query["passage"]
	if ok {
		id = asked
	}
	task := a.openPackets(dom.Fragment()) && a.desk != nil
	// Nothing can be pressed yet, but the collector gets its turns, or memory
	// grows to several times its size.
	if !task && !a.openByID(id, runtime.Gosched) {
		if ok {
			a.say(a.words.Say("There is no passage “{name}”; this is the first built-in passage.", "{name}", asked))
		}
		a.openBuiltIn(assets.Passages()[0])
	}
	if saved != "" && desk.SavedPassage(saved) == a.desk.ID {
		a.restore(a.desk, saved, nil)
	}
	for _, said := range a.desk.Apply(query, instrumentKeys()) {
		a.say(said)
	}
	a.takeKind(query)
	a.changed()
	a.rounds.Ready()
}

// lay puts a passage on the desk; what was sounding stops.
func (a *app) lay(id string, p *score.Passage, warnings []string, yield func()) {
	opened := desk.Open(id, p, realize.Taste{Rate: a.playersRate(), Naming: a.look.Notes, Words: a.words}, yield)
	a.bringBack(opened, yield)
	a.rounds.Stop()
	before := a.desk
	if before != nil && before.ID != id {
		a.putAway(before)
	}
	a.desk, a.rounds.Desk = opened, opened
	a.desk.TuneLike(before)
	a.view.warnings, a.view.parts = warnings, nil
	a.camera.shown, a.camera.place, a.wide = nil, 0, 1
	a.page = pageView{}
	a.changedYielding(yield)
}

// layAnew is lay for a passage that was just made: what was set at an earlier
// one of its name holds no longer.
func (a *app) layAnew(id string, p *score.Passage, warnings []string) {
	_ = dom.Forget(pastKey + id)
	a.lay(id, p, warnings, nil)
}

// changed engraves what is on the desk now, shows it and keeps it.
func (a *app) changed() { a.changedYielding(nil) }

// changedYielding is changed that calls yield, if any, between its parts.
func (a *app) changedYielding(yield func()) {
	a.rounds.ForgetMarks()
	for _, part := range []func(){a.engraveAll, a.show, a.keep} {
		if yield != nil {
			yield()
		}
		part()
	}
	stage.Refresh()
}

// longPiece is how many chords a passage has whose change takes longer than a
// hand should wait for the page.
const longPiece = 2000

// between is what a handler that may block calls between the parts of a
// change: nothing in a passage that is done at once.
func (a *app) between() func() {
	if len(a.desk.Passage.Chords) < longPiece {
		return nil
	}
	return dom.Yield
}

func instrumentKeys() []string {
	var keys []string
	for _, i := range synth.Instruments() {
		keys = append(keys, string(i.Key))
	}
	return keys
}
