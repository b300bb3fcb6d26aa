package main

import (
	"strings"

	"agremens/game/class"
	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/game/plan"
	"agremens/game/week"
	"agremens/web/dom"
)

// bindOne connects the part of the class that shows one student.
func (s *classSheet) bindOne() {
	dom.OnClick("one-back", s.back)
	dom.OnClick("one-close", func() { dom.CloseSheet("class") })
	dom.OnChange("one-note", func() {
		text, when := dom.Value("one-note"), s.host.Minute()
		s.host.ChangeStudent(s.one, func(one *class.Student) { one.SetNote(text, when) })
	})
	dom.OnChange("one-lesson", func() {
		day, when := whole(dom.Value("one-lesson")), s.host.Minute()
		s.host.ChangeStudent(s.one, func(one *class.Student) { one.SetLesson(day, when) })
	})
	dom.OnChange("one-rename", s.rename)
	dom.OnClick("one-next", s.layNext)
	dom.OnClick("one-weeks", s.draftWeeks)
	dom.OnClick("one-erase", func() {
		dom.SetText("one-ask-text", s.words.Say("Erase everything for {name}? This cannot be undone.", "{name}", dom.Text("one-name")))
		dom.SetHidden("one-ask", false)
		dom.Focus("one-erase-no")
	})
	dom.OnClick("one-erase-no", func() { dom.SetHidden("one-ask", true) })
	dom.OnClick("one-erase-yes", func() {
		name, erased := s.one, dom.Text("one-name")
		if s.host.EraseStudent(name) {
			s.back()
			dom.SetText("class-said", s.words.Say("{name} is erased here, and an older file does not bring {name} back. Files that you saved before, and other devices until they take in a newer file, still hold everything.", "{name}", erased))
		}
	})
}

// open shows a student.
func (s *classSheet) open(key string) {
	stored := s.host.Class().Find(key)
	if stored == nil { // another window erased her
		s.back()
		return
	}
	s.one = stored.Key()
	one := stored.WithLog(s.host.Practised())
	dom.SetText("one-name", class.Name(one.Name, s.words))
	dom.SetValue("one-note", one.Note.Text)
	dom.SetOptions("one-lesson", s.weekdays(s.words.Say("not set")), string(rune('0'+one.Lesson)))
	dom.SetValue("one-rename", one.Name)
	also := ""
	if len(one.Also) > 0 {
		also = s.words.Say("Also called {names}.", "{names}", strings.Join(one.Also, ", "))
	}
	dom.SetText("one-also", also)
	dom.SetHidden("one-ask", true)
	next, ok := s.drafted(one)
	text := s.words.Say("There is no task yet to go on from: open a piece and send the first one.")
	if ok {
		text = s.words.Say("Next: {piece}. {reason}", "{piece}", class.Piece(next.title, next.bars, s.words), "{reason}", next.why)
	}
	dom.SetText("one-draft", text)
	dom.SetDisabled("one-next", !ok)
	s.plan(one)
	s.stayed(one)
	s.history(one)
	dom.SetHidden("class-all", true)
	dom.SetHidden("class-one", false)
	dom.Focus("one-name")
}

func (s *classSheet) stayed(one *class.Student) {
	var head []string
	for _, column := range class.StayedHead {
		head = append(head, s.words.Say(column))
	}
	var rows [][]string
	for _, all := range [][]class.Stayed{one.Pieces(s.words), one.Signs(s.words)} {
		for i := range all {
			rows = append(rows, all[i].Cells(s.words))
		}
	}
	dom.SetHidden("one-stayed-name", len(rows) == 0)
	dom.SetHidden("one-stayed", len(rows) == 0)
	dom.SetTable("one-stayed", head, rows)
}

// history lists tasks and what came of them, the latest first.
func (s *classSheet) history(one *class.Student) {
	var cards []dom.Card
	for i := len(one.Works) - 1; i >= 0; i-- {
		w := &one.Works[i]
		report := w.Report("")
		l := lesson.Read(report, s.words)
		c := dom.Card{Key: w.ID, Title: l.Heading, MoreTitle: s.words.Say("Day by day"), More: l.Days}
		practised := week.FromReport(report, 0)
		c.Drawing = practised.SVG(s.words, week.Large)
		c.Lines = append(w.When(s.words), l.Time, practised.Compare(s.words), l.Cold, l.Left, l.Ask)
		if w.Last == 0 {
			c.Lines, c.More = append(w.When(s.words), l.Time), nil
		}
		if w.Letters != "" {
			c.Buttons = []dom.Button{{Key: "next", Label: s.words.Say("Next task from this")}}
		}
		cards = append(cards, c)
	}
	dom.SetCards("one-history", cards, func(id, _ string) {
		if w := one.Work(id); w != nil {
			s.lay(nextTask{letters: w.Letters})
		}
	})
}

// rename gives the student another name, that of another one among them.
func (s *classSheet) rename() {
	to := diary.Name(dom.Value("one-rename"))
	name, when := s.one, s.host.Minute()
	var now *class.Student
	if to == "" || !s.host.ChangeClass(func(c *class.Class) { now = c.Rename(name, to); c.Readmit(to, when) }) || now == nil {
		s.open(name)
		return
	}
	s.open(now.Key())
}

// lessonsAtEase is how many lessons fit on one printed side with some lines of
// a note each.
const lessonsAtEase = 8

// print prints the list of today's lessons, or of the day that is chosen.
func (s *classSheet) print() {
	day := whole(dom.Value("class-lesson"))
	if day == 0 {
		day = class.Weekday(s.host.Date())
	}
	var all []*class.Student
	log := s.host.Practised()
	for _, one := range s.host.Class().Students {
		all = append(all, one.WithLog(log))
	}
	lines := plan.Lessons(all, day, s.host.Date(), s.words)
	weekday := s.words.Say(week.Weekdays[day-1])
	if len(lines) == 0 {
		dom.SetText("class-said", s.words.Say("Nobody has a lesson on {day}: set the day on the student's page.", "{day}", weekday))
		return
	}
	var cards []dom.Card
	for _, l := range lines {
		c := dom.Card{Title: l.Name, Lines: []string{l.Task, s.words.Say("Ask: {what}", "{what}", l.Ask), l.Note}}
		if l.Hear != "" {
			c.Lines = []string{l.Task, c.Lines[1], s.words.Say("Hear first: {what}", "{what}", l.Hear), l.Note}
		}
		cards = append(cards, c)
	}
	dom.SetText("lessons-name", s.words.Say("Lessons on {day}", "{day}", weekday))
	dom.SetCards("lessons-list", cards, nil)
	many := ""
	if len(cards) > lessonsAtEase {
		many = "many"
	}
	dom.SetData("lessons-list", "many", many)
	dom.Print("lessons")
}
