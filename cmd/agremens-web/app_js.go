package main

import (
	"runtime"

	"agremens/game/conduct"
	"agremens/game/keep"
	"agremens/game/look"
	"agremens/game/place"
	"agremens/game/round"
	"agremens/game/studio"
	"agremens/realize/words"
	"agremens/web/dom"
)

// tickMS is how often the round looks at the clock, in milliseconds.
const tickMS = 20

// app is the running program: the studio, what it sounds through, and what
// shows it. As the host of the sheets it is what each of them asks for.
type app struct {
	*studio.Studio
	*page
	words  *words.Catalogue
	sound  *sound
	staff  *staff
	playIt *playIt
	delays *delays
}

func newApp() *app {
	a := &app{sound: newSound(), page: &page{}}
	if packed := dom.Texts(); packed != "" {
		a.words, _ = words.Parse([]byte(packed)) // English where they cannot be read
	}
	a.staff = newStaff(savedLook(a.words))
	a.page.staff = a.staff
	a.Studio = studio.New(a.sound, a.page, wall{}, storage{}, a.staff.look.Notes, a.words)
	a.staff.host, a.staff.rounds = a, a.Rounds
	return a
}

// savedLook is how the staff was seen last.
func savedLook(c *words.Catalogue) look.Look {
	saved, _, _ := dom.Load(lookKey)
	l := look.Restore(saved)
	if saved == "" {
		l.Notes = look.Customary(c.Language())
	}
	return l
}

// wire connects the page's parts with the studio, in the order in which they
// are shown.
func (a *app) wire() {
	dom.BindMenus()
	dom.BindFolds()
	panel := newPanel(a.words, a.staff, a)
	tools := newTools(a.words, a.staff, a)
	edits := newEdits(a.words, func() { a.page.rooms.open(place.Read) }, a)
	a.page.lays = append(a.page.lays, panel.forget)
	a.page.shows = []func(){panel.show}
	a.show(newSettings(a.words, a).show)
	a.show(newTuning(a.words, a).show)
	a.show(newFollow(a.words, a).show)
	a.show(edits.show)
	a.show(newResult(a.Rounds).show)
	a.show(newQuestions(a.words, a).show)
	a.show(tools.show)
	kinds := newKinds(a.words, a.Rounds)
	a.page.kinds = kinds.offer
	a.show(kinds.show)
	listening := newHark(a.words, a.Rounds, a.Today, a.Say)
	a.show(listening.show)
	changes := newChanges(a.words, a)
	a.show(changes.show)
	a.playIt = newPlayIt(a.words, a, a.Rounds, func() { changes.try(nil) })
	a.delays = newDelays(a.words, a.sound, a)
	heard := newHeard(a.sound, a.Rounds)
	first := newBegin(a.words, a.Rounds)
	a.show(first.show)
	a.page.finished = append(a.page.finished, heard.ask, first.finished, func() {
		if a.Rounds.State == round.Result {
			a.page.toResult()
		}
	})
	a.wireScores(listening.dropped)
	a.wireTasks()
	a.wireLog()
	newGlossary(a.words, a.staff, a)
	newPieceSigns(a.words, a, func() { a.page.rooms.open(place.Read) })
	newLanguage(a.words, tools, a)
	newSending(a.words, a)
	dom.BindHelp("help")
	dom.OnClick("help-close", func() { dom.CloseSheet("help") })
	dom.OnClick("listen", a.Rounds.Listen)
	dom.OnClick("tap", a.Rounds.Tap)
	dom.OnClick("stop", a.Rounds.Enough)
	newTaps(a.Rounds, edits, a)
	dom.OnStored(a.Elsewhere)
	dom.OnHidden(func(hidden bool) {
		if hidden {
			a.Keep()
		}
	})
}

// wireScores connects what brings a passage; a file that recording takes is
// not opened as one.
func (a *app) wireScores(recording func([]dom.File) bool) {
	scores := newScores(a.words, a, recording)
	newFind(a.words, a, scores.name)
	a.show(scores.show)
	newPaper(a.words, a.staff, a)
	newTyped(a.words, a)
}

// wireTasks connects what goes to a student and comes back.
func (a *app) wireTasks() {
	tasks := newTasks(a.words, a)
	a.page.rooms = newRooms(tasks.open)
	a.show(func() {
		if a.page.rooms.at == place.Send {
			tasks.show()
		}
	})
	class := newClass(a.words, a, func(next nextTask) {
		tasks.prepare(next)
		a.page.rooms.open(place.Send)
	})
	a.page.reports = class.shown
	week := &weekPicture{a.words, a.Log, a.Task}
	last := newLast(a.words, a, week, a.Today.Back)
	a.page.last = last.open
	student := newStudent(a.words, a, a.Rounds, a.Today, week, last.open)
	a.show(student.show)
	home := newHome(a.words, a)
	a.page.student = func(on bool) {
		student.enter(on)
		if on {
			home.offer()
		}
	}
}

// wireLog connects who taps, what they did, and the day.
func (a *app) wireLog() {
	log := newLog(a.words, a.Log, a)
	strip := newStrip(a.words, a.Log, a.Rounds, log.open)
	a.page.who, a.page.kept = strip.showWho, strip.showKept
	a.show(strip.showKept)
	day := newDay(a.words, a.Today, a, strip, log.open, a.page.toResult)
	a.page.day, a.page.dayOver = day.show, day.open
	speed := newSpeed(a.words, a)
	a.show(speed.showRate)
	newMIDI(a.words, a.Rounds, speed, a.playIt)
}

// show adds something that is brought up to date with the rest of the page.
func (a *app) show(f func()) { a.page.shows = append(a.page.shows, f) }

// open shows what the address names, or what lay on the desk last.
func (a *app) open() {
	// Nothing can be pressed yet, but the collector gets its turns, or memory
	// grows to several times its size.
	query := dom.Query()
	if _, kept, _ := (storage{}).Load(keep.DeskKey); kept && dom.Taken() {
		query = nil // a reload: what was changed since stands
	}
	a.First(query, dom.Fragment(), runtime.Gosched)
	if query["kind"] != "" {
		a.page.toResult()
	}
	dom.SetTaken()
	a.sound.open()
	go a.delays.find()
}

// tick moves everything on.
func (a *app) tick() {
	a.Rounds.Tick()
	a.page.count(a.Rounds.Count())
	a.delays.tick(dom.Now())
}

// wall tells the time.
type wall struct{}

func (wall) Now() float64            { return dom.Now() }
func (wall) Wall() (day, minute int) { return dom.Wall() }

// storage is what the browser keeps for the page. The desk is kept for the
// window too: a reload shows what it showed, whatever lies in another one.
type storage struct{}

func (storage) Load(key string) (text string, ok bool, err error) {
	if key == keep.DeskKey {
		if text, ok, err := dom.LoadTab(key); ok && err == nil {
			return text, true, nil
		}
	}
	return dom.Load(key)
}

func (storage) Save(key, text string) error {
	if key == keep.DeskKey {
		_ = dom.StoreTab(key, text)
	}
	return dom.Store(key, text)
}

func (storage) Forget(key string) error { return dom.Forget(key) }

func (storage) Keys(prefix string) []string { return dom.Keys(prefix) }

var _ conduct.Sound = (*sound)(nil)
