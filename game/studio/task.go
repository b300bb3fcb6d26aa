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

// OpenPackets opens the tasks and reports that a text holds, and reports
// whether there are any.
func (s *Studio) OpenPackets(text string) bool {
	tasks, reports := lesson.Packets(text)
	if len(reports) > 0 {
		s.TakeReports(reports)
	}
	if len(tasks) > 0 {
		s.OpenTask(tasks[0])
	}
	return len(tasks)+len(reports) > 0
}

// TakeReports puts reports that came back beside those that are here, and shows
// them all.
func (s *Studio) TakeReports(letters []string) {
	t := s.Inbox.Take(letters)
	if t.Unkept {
		s.Unkept()
	}
	said := ""
	if t.N > 0 {
		said = s.Words.Count(t.N, "{n} taken.", "{n} taken.")
	}
	if t.Bad != nil {
		if said != "" {
			said += " "
		}
		said += s.Words.Say("One report could not be opened. {why}", "{why}", packet.Words(t.Bad, s.Words))
	}
	s.page.Reports(said)
}

// OpenTask lays a task on the desk as the student's page and reports whether it
// could be read; what is on the desk stays where it could not.
func (s *Studio) OpenTask(letters string) bool { return s.openTask(letters, true) }

// openKeptTask opens a task that was kept, as whose page it was open last.
func (s *Studio) openKeptTask(letters string) bool {
	page, _, _ := s.store.Load(keep.PageKey)
	return s.openTask(letters, page != deskPage)
}

func (s *Studio) openTask(letters string, student bool) bool {
	t, err := packet.DecodeTask(letters)
	if err != nil {
		s.page.Say(s.Words.Say("This task could not be opened. {why}", "{why}", packet.Words(err, s.Words)))
		return false
	}
	h, said, err := lesson.Open(t, Instruments(), s.Words)
	if err != nil {
		s.page.Say(s.Words.Say("This task could not be opened. {why}", "{why}", lesson.Words(err, s.Words)))
		return false
	}
	s.Rounds.Stop()
	if before := s.Desk; before != nil && before.ID != h.Desk.ID {
		s.putAway(before)
	}
	if s.Homework != nil && !student {
		s.LeaveTask()
	}
	s.put(h.Desk)
	if student {
		s.Homework = h
		s.Desk.Voice = "child"
	}
	s.Desk.SetNaming(s.Naming)
	s.bringBack(s.Desk, nil)
	s.Warnings, s.Parts = nil, nil
	s.page.Laid()
	s.keepPassage(shelf.Item{ID: h.Desk.ID, Kind: shelf.Task, Name: TaskPrefix + t.Title}, []byte(letters))
	for _, text := range said {
		s.page.Say(text)
	}
	if student {
		s.enterTask(letters)
	}
	s.Changed()
	s.Rounds.Ready()
	return true
}

// enterTask shows the student's page of the task on the desk.
func (s *Studio) enterTask(letters string) {
	s.page.Address("task=" + letters)
	s.offerKinds(s.Homework.Task.Kinds)
	s.Today.lead()
	_ = s.store.Save(keep.PageKey, studentPage)
	s.page.Student(true)
}

// LeaveTask gives the whole desk back, the task's passage still on it.
func (s *Studio) LeaveTask() {
	s.Homework = nil
	s.Desk.Voice = ""
	s.Today.Set(s.Today.none())
	s.page.Student(false)
	s.offerKinds(nil)
	_ = s.store.Save(keep.PageKey, deskPage)
	s.page.Address("")
	s.page.Show()
}

// offerKinds offers the kinds of round a task asks for, in its order; none
// means all there are. The first is chosen.
func (s *Studio) offerKinds(keys []string) {
	s.offered = nil
	for _, key := range keys {
		if k, ok := practice.Find(key); ok {
			s.offered = append(s.offered, k)
		}
	}
	if len(s.offered) == 0 {
		s.offered = practice.Kinds()
	}
	s.Rounds.Choose(s.offered[0].Key)
	s.page.Kinds(s.offered, s.OnTask())
}

// MayChoose reports whether the selected ornament's choice is whoever's at the
// desk to make.
func (s *Studio) MayChoose() bool {
	if s.Homework == nil {
		return true
	}
	o, ok := s.Desk.Ornament()
	return ok && s.Homework.Free[o.Note]
}

// paceStep is how far a step of the student's tempo goes, in per cent of the
// goal.
const paceStep = 5

// Pace moves the tempo by steps.
func (s *Studio) Pace(steps float64) {
	s.Desk.SetPercent(math.Round(s.Desk.Percent/paceStep+steps) * paceStep)
	s.Settled()
	s.page.Status(s.Words.Say("{n} per cent of the goal tempo", "{n}", strconv.Itoa(int(math.Round(s.Desk.Percent)))))
}

// Report sums up what was done with the task that is open. Rounds of it that
// nobody was named for become the named one's.
func (s *Studio) Report(name string) packet.Report {
	id := lesson.DeskID(s.Homework.Task)
	if name != "" && name != s.Log.Player {
		s.Log.claim(name, id)
	}
	return lesson.Report(s.Log.Diary, s.Log.Player, s.Homework.Task)
}

// NextTask lays the task that a report carries on the teacher's desk and
// reports whether it could be read.
func (s *Studio) NextTask(letters string) bool {
	r, err := packet.DecodeReport(letters)
	if err != nil || !s.OpenTask(r.Packed) {
		return false
	}
	t := s.Homework.Task
	s.LeaveTask()
	s.KeepWish(t.Words, t.Kinds)
	return true
}
