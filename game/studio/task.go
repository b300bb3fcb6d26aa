package studio

import (
	"math"
	"strconv"

	"agremens/game/keep"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/game/shelf"
	"agremens/realize/codec/packet"
)

// TaskPrefix begins the name of a kept task.
const TaskPrefix = "Task: "

// Whose page is open.
const (
	studentPage = "student"
	deskPage    = "desk"
)

// Tasks opens what teachers set for students, and what comes back.
type Tasks struct {
	studio *Studio
	left   string // the task that was left for the whole desk, "" none
}

// OpenPackets opens the tasks and reports that a text holds, and reports
// whether there are any.
func (k *Tasks) OpenPackets(text string) bool {
	tasks, reports := lesson.Packets(text)
	if len(reports) > 0 {
		k.studio.Take([]File{{Data: []byte(text)}})
	}
	if len(tasks) > 0 {
		k.OpenTask(tasks[0])
	}
	return len(tasks)+len(reports) > 0
}

// OpenTask lays a task on the desk as the student's page and reports whether it
// could be read; what is on the desk stays where it could not.
func (k *Tasks) OpenTask(letters string) bool { return k.openTask(letters, true) }

// openKeptTask opens a task that was kept, as whose page it was open last.
func (k *Tasks) openKeptTask(letters string) bool {
	page, _, _ := k.studio.store.Load(keep.PageKey)
	return k.openTask(letters, page != deskPage)
}

func (k *Tasks) openTask(letters string, student bool) bool {
	t, err := packet.DecodeTask(letters)
	if err != nil {
		k.studio.page.Say(k.studio.Words.Say("This task could not be opened. {why}", "{why}", packet.Words(err, k.studio.Words)))
		return false
	}
	h, said, err := lesson.Open(t, Instruments(), k.studio.Words)
	if err != nil {
		k.studio.page.Say(k.studio.Words.Say("This task could not be opened. {why}", "{why}", lesson.Words(err, k.studio.Words)))
		return false
	}
	k.studio.Rounds.Stop()
	if before := k.studio.Desk; before != nil && before.ID != h.Desk.ID {
		k.studio.putAway(before)
	}
	if k.studio.Homework != nil && !student {
		k.LeaveTask()
	}
	k.studio.put(h.Desk)
	if student {
		k.studio.Homework = h
		k.studio.Desk.Voice = "child"
	}
	k.studio.Desk.SetTaught(student)
	k.studio.Desk.SetNaming(k.studio.Naming)
	k.studio.bringBack(k.studio.Desk, nil)
	k.studio.About, k.studio.Warnings, k.studio.NotDrawn, k.studio.Parts = "", nil, nil, nil
	k.studio.page.Laid()
	k.studio.keepPassage(shelf.Item{ID: h.Desk.ID, Kind: shelf.Task, Name: TaskPrefix + t.Title}, []byte(letters))
	k.studio.used()
	for _, text := range said {
		k.studio.page.Say(text)
	}
	if student {
		k.enterTask(letters)
	}
	k.studio.Changed()
	k.studio.Rounds.Ready()
	return true
}

// enterTask shows the student's page of the task on the desk.
func (k *Tasks) enterTask(letters string) {
	k.left = ""
	k.studio.page.Address("task=" + letters)
	k.offerKinds(k.studio.Homework.Task.Kinds)
	k.studio.Today.lead()
	_ = k.studio.store.Save(keep.PageKey, studentPage)
	k.studio.page.Student(true)
}

// BackToTask shows the first page of the task that is open, or of the one that
// was left last.
func (k *Tasks) BackToTask() {
	if k.studio.OnTask() {
		k.studio.Rounds.Forget()
		return
	}
	if k.left != "" {
		k.OpenTask(k.left)
	}
}

// Left reports whether a task was left for the whole desk.
func (k *Tasks) Left() bool { return k.left != "" && !k.studio.OnTask() }

// LeaveTask gives the whole desk back, the task's passage still on it.
func (k *Tasks) LeaveTask() {
	k.left = packet.EncodeTask(k.studio.Homework.Task)
	k.studio.Homework = nil
	k.studio.Desk.Voice = ""
	k.studio.Desk.SetTaught(false)
	k.studio.Today.open()
	k.studio.page.Day()
	k.studio.page.Student(false)
	k.offerKinds(nil)
	_ = k.studio.store.Save(keep.PageKey, deskPage)
	k.studio.page.Address("")
	k.studio.page.Engrave()
	k.studio.page.Show()
	k.studio.page.Refresh()
}

// offerKinds offers the kinds of round a task asks for, in its order; none
// means all there are. The first is chosen.
func (k *Tasks) offerKinds(keys []string) {
	k.studio.offered = nil
	for _, key := range keys {
		if kind, ok := practice.Find(key); ok {
			k.studio.offered = append(k.studio.offered, kind)
		}
	}
	if len(k.studio.offered) == 0 {
		k.studio.offered = practice.Kinds()
	}
	k.studio.Rounds.Choose(k.studio.offered[0].Key)
	k.studio.page.Kinds(k.studio.offered, k.studio.OnTask())
}

// MayChoose reports whether the selected ornament's choice is whoever's at the
// desk to make.
func (k *Tasks) MayChoose() bool {
	if k.studio.Homework == nil {
		return true
	}
	o, ok := k.studio.Desk.Ornament()
	return ok && k.studio.Homework.Free[o.Note]
}

// paceStep is how far a step of the student's tempo goes, in per cent of the
// goal.
const paceStep = 5

// Pace moves the tempo by steps.
func (k *Tasks) Pace(steps float64) {
	k.studio.Desk.SetPercent(math.Round(k.studio.Desk.Percent/paceStep+steps) * paceStep)
	k.studio.Settled()
	k.studio.page.Status(k.studio.Words.Say("{n} per cent of the goal tempo", "{n}", strconv.Itoa(int(math.Round(k.studio.Desk.Percent)))))
}

// Report sums up what was done with the task that is open. Rounds of it that
// nobody was named for become the named one's.
func (k *Tasks) Report(name string) packet.Report {
	id := lesson.DeskID(k.studio.Homework.Task)
	if name != "" && name != k.studio.Log.Player {
		k.studio.Log.claim(name, id)
	}
	return lesson.Report(k.studio.Log.Diary, k.studio.Log.Player, k.studio.Homework.Task)
}

// NextTask lays an earlier task on the teacher's desk and reports whether it
// could be read.
func (k *Tasks) NextTask(letters string) bool {
	if !k.OpenTask(letters) {
		return false
	}
	t := k.studio.Homework.Task
	k.LeaveTask()
	k.left = "" // it was the teacher who looked
	k.KeepWish(t.Words, t.Kinds)
	return true
}
