package main

import (
	"math"
	"strconv"
	"strings"

	"agremens/game/day"
	"agremens/game/desk"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/game/shelf"
	"agremens/realize/codec/packet"
	"agremens/web/dom"
)

// pageKey names in the browser's storage whose page was open last.
const pageKey = "agremens.page"

// taskPrefix begins the name of a kept task.
const taskPrefix = "Task: "

// bindStudent connects the student's page and opens what the address holds.
func (a *app) bindStudent() {
	dom.OnClick("slower", func() { a.pace(-1) })
	dom.OnClick("faster", func() { a.pace(1) })
	dom.OnClick("to-piano", func() {
		a.rounds.Choose(practice.Piano)
		a.rounds.Tap()
	})
	dom.OnClick("done", a.openLast)
	dom.OnClick("last-desk", func() { dom.CloseSheet("last"); a.leaveTask() })
	dom.OnClick("last-close", func() { dom.CloseSheet("last") })
	dom.OnChange("last-who", a.makeReport)
	dom.OnChange("last-piano", a.keepPiano)
	dom.OnClick("last-copy", func() { a.copyLink("last", a.reportLink()) })
	dom.OnClick("last-share", func() { a.share("last", a.homework.Task.Title, a.reportLink()) })
	dom.OnClick("last-file", func() {
		a.saveFile("last-said", lesson.FileName(a.words.Say("report"), dom.Value("last-who"), a.homework.Task.Title), lesson.File(packet.ReportKind, a.report))
	})
	dom.SetHidden("last-share", !dom.CanShare())
	dom.OnFragment(func(fragment string) { a.openPackets(fragment) })
}

// paceStep is how far a step of the student's tempo goes, in per cent of the
// goal.
const paceStep = 5

func (a *app) pace(steps float64) {
	a.desk.SetPercent(math.Round(a.desk.Percent/paceStep+steps) * paceStep)
	a.settled()
	a.status(a.words.Say("{n} per cent of the goal tempo", "{n}", strconv.Itoa(int(math.Round(a.desk.Percent)))))
}

// openPackets opens the tasks and reports that a text holds, and reports
// whether there are any.
func (a *app) openPackets(text string) bool {
	tasks, reports := lesson.Packets(text)
	if len(tasks)+len(reports) == 0 {
		return false
	}
	if len(reports) > 0 {
		a.takeReports(reports)
	}
	if len(tasks) > 0 {
		a.openTask(tasks[0])
	}
	return true
}

// openTask lays a task on the desk as the student's page; what is on screen
// stays where the task cannot be read.
func (a *app) openTask(letters string) bool {
	t, err := packet.DecodeTask(letters)
	if err != nil {
		a.say(a.words.Say("This task could not be opened. {why}", "{why}", packet.Words(err)))
		return false
	}
	h, said, err := lesson.Open(t, instrumentKeys(), a.words)
	if err != nil {
		a.say(a.words.Say("This task could not be opened. {why}", "{why}", lesson.Words(err, a.words)))
		return false
	}
	a.rounds.Stop()
	if before := a.desk; before != nil && before.ID != h.Desk.ID {
		a.putAway(before)
	}
	a.homework, a.desk, a.rounds.Desk = h, h.Desk, h.Desk
	a.desk.Voice = "child"
	a.desk.SetNaming(a.look.Notes)
	a.bringBack(a.desk, nil)
	a.view.warnings, a.view.parts, a.marks = nil, nil, nil
	a.camera.shown, a.camera.place, a.wide = nil, 0, 1
	a.keepPassage(shelf.Item{ID: h.Desk.ID, Kind: shelf.Task, Name: taskPrefix + t.Title}, []byte(letters))
	_ = dom.SetAddress(dom.Address() + "#task=" + letters)
	dom.SetPage("student")
	a.offerKinds(t.Kinds)
	a.leadDay()
	for _, text := range said {
		a.say(text)
	}
	_ = dom.Store(pageKey, "student")
	a.offerHome()
	a.changed()
	a.rounds.Ready()
	return true
}

// openKeptTask opens a task that was kept, as whose page it was open last.
func (a *app) openKeptTask(letters string) bool {
	page, _, _ := dom.Load(pageKey)
	if !a.openTask(letters) {
		return false
	}
	if page == "desk" {
		a.leaveTask()
	}
	return true
}

// offerKinds offers the kinds of round a task asks for, in its order; none
// means all there are.
func (a *app) offerKinds(keys []string) {
	var kinds []practice.Kind
	for _, key := range keys {
		if k, ok := practice.Find(key); ok {
			kinds = append(kinds, k)
		}
	}
	if len(kinds) == 0 {
		kinds = practice.Kinds()
	}
	var options []dom.Option
	for _, k := range kinds {
		if k.Key == practice.Tap && a.homework != nil {
			k.Name = a.words.Say("As your teacher set it")
		}
		options = append(options, dom.Option{Key: k.Key, Label: a.words.Say(k.Name), Group: a.words.Say(k.Group)})
	}
	a.rounds.Choose(kinds[0].Key)
	dom.SetOptions("kind", options, kinds[0].Key)
}

// leaveTask gives the whole desk back, the task's passage still on it.
func (a *app) leaveTask() {
	a.homework = nil
	a.desk.Voice = ""
	a.setDay(day.Day{})
	dom.SetPage("")
	a.offerKinds(nil)
	_ = dom.Store(pageKey, "desk")
	_ = dom.SetAddress(dom.Address())
	a.show()
}

// mayChoose reports whether the selected ornament's choice is whoever's at
// the desk to make.
func (a *app) mayChoose() bool {
	if a.homework == nil {
		return true
	}
	o, ok := a.desk.Ornament()
	return ok && a.homework.Free[o.Note]
}

// showStudent brings the student's page up to date.
func (a *app) showStudent() {
	if a.homework == nil {
		return
	}
	t := a.homework.Task
	dom.SetText("student-words", t.Words)
	dom.SetText("composer-text", a.words.Say("bars {bars}, goal {beats} = {n}, {hand}",
		"{bars}", strings.ReplaceAll(a.desk.Bars(), "-", "–"), "{n}", strconv.Itoa(int(math.Round(a.desk.Goal()))),
		"{beats}", a.desk.BeatWord(), "{hand}", a.handInWords(a.desk.Tap)))
	dom.SetDisabled("slower", a.desk.Percent <= 20)
	dom.SetDisabled("faster", a.desk.Percent >= 200)
}

func (a *app) handInWords(h round.Hands) string {
	return map[string]string{"right": a.words.Say("right hand"), "left": a.words.Say("left hand"), "both": a.words.Say("both hands")}[desk.HandWord(h)]
}
