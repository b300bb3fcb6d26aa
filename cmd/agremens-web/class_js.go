package main

import (
	"strconv"

	"agremens/game/class"
	"agremens/game/diary"
	"agremens/game/studio"
	"agremens/game/week"
	"agremens/realize/words"
	"agremens/web/dom"
)

// weeksShown is how many weeks stand in the table.
const weeksShown = 4

// classHost is what the sheet of the class asks of the program.
type classHost interface {
	Class() *class.Class
	Date() int
	Minute() int
	Take(files []studio.File)
	ChangeStudent(name string, change func(*class.Student)) bool
	ChangeClass(change func(*class.Class)) bool
	EraseStudent(name string) bool
	Save() []byte
	NextTask(letters string) bool
	Practised() *diary.Diary
}

// classSheet is the teacher's class: a table, and a student by herself.
type classSheet struct {
	words *words.Catalogue
	host  classHost
	one   string // the key of the student who is shown
	next  func(nextTask)
}

func newClass(c *words.Catalogue, h classHost, next func(nextTask)) *classSheet {
	s := &classSheet{words: c, host: h, next: next}
	dom.OnClick("open-class", func() { s.shown(nil) })
	dom.OnClick("class-close", func() { dom.CloseSheet("class") })
	dom.OnFiles("class-files", func(files []dom.File) {
		var all []studio.File
		for _, f := range files {
			all = append(all, studio.File{Name: f.Name, Data: f.Data, Err: f.Err})
		}
		h.Take(all)
	})
	dom.OnClick("class-paste-show", func() {
		dom.SetHidden("class-pasting", !dom.Hidden("class-pasting"))
		dom.Focus("class-paste")
	})
	dom.OnClick("class-take", func() {
		dom.SetHidden("class-pasting", true)
		h.Take([]studio.File{{Name: c.Say("Pasted text"), Data: []byte(dom.Value("class-paste"))}})
		dom.SetValue("class-paste", "")
	})
	dom.OnInput("class-find", s.table)
	for _, id := range []string{"class-lesson", "class-look", "class-order"} {
		dom.OnChange(id, s.table)
	}
	dom.OnLine("class-table", s.open)
	dom.OnClick("class-add", s.add)
	dom.OnEnter("class-new", s.add)
	dom.OnClick("class-save", func() {
		name := c.Say("class {date}", "{date}", diary.When{Day: h.Date()}.Date()) + ".agremens"
		saveFile("class-said", name, h.Save(), c)
	})
	dom.OnClick("class-print", s.print)
	s.bindOne()
	return s
}

// shown shows the class, what came, and the sheet they stand on.
func (s *classSheet) shown(came []class.Came) {
	dom.SetText("class-said", "")
	dom.SetText("class-summary", class.Summary(came, s.words))
	var lines []string
	for i := range came {
		lines = append(lines, came[i].Words(s.words))
	}
	dom.SetList("class-list", lines)
	dom.SetOptions("class-lesson", s.weekdays(s.words.Say("all")), dom.Value("class-lesson"))
	s.back()
	dom.OpenSheet("class")
}

// weekdays are the options of a day; none names the one that stands for none.
func (s *classSheet) weekdays(none string) []dom.Option {
	all := []dom.Option{{Key: "0", Label: none}}
	for i, name := range week.Weekdays {
		all = append(all, dom.Option{Key: string(rune('1' + i)), Label: s.words.Say(name)})
	}
	return all
}

// back shows the table.
func (s *classSheet) back() {
	s.one = ""
	dom.SetHidden("class-one", true)
	dom.SetHidden("class-all", false)
	s.table()
}

func (s *classSheet) table() {
	c, today, log := s.host.Class(), s.host.Date(), s.host.Practised()
	var rows []class.Row
	for _, student := range c.Students {
		rows = append(rows, student.WithLog(log).Row(today, weeksShown))
	}
	empty := len(rows) == 0
	dom.SetHidden("class-what", !empty)
	dom.SetHidden("class-scroll", empty)
	dom.SetDisabled("class-print", empty)
	dom.SetDisabled("class-save", empty)
	rows = class.Arrange(rows, class.Order(dom.Value("class-order")), class.Filter{
		Name: dom.Value("class-find"), Lesson: whole(dom.Value("class-lesson")), Look: dom.Checked("class-look")})
	head := []string{s.words.Say("Student")}
	for i := range weeksShown - 1 {
		head = append(head, class.Until(today-(weeksShown-1-i)*class.Span, s.words))
	}
	head = append(head, s.words.Say("The last 7 days"), s.words.Say("Clean tempo"), s.words.Say("Left to do"))
	var lines []dom.Line
	for i := range rows {
		lines = append(lines, s.line(&rows[i], today))
	}
	dom.SetLines("class-table", head, lines)
}

func (s *classSheet) line(r *class.Row, today int) dom.Line {
	l := dom.Line{Key: r.Student.Key(), Cells: []dom.Cell{{Text: class.Name(r.Student.Name, s.words), Detail: r.Student.LessonDay(s.words)}}}
	if r.Look != class.Fine {
		l.Mark = "look"
	}
	for i := range r.Weeks {
		cell := dom.Cell{Text: "–"}
		if w := &r.Weeks[i]; w.Days > 0 {
			cell.Text, cell.Detail = s.words.Count(w.Days, "{n} day", "{n} days"), s.words.Say("{n} min", "{n}", strconv.Itoa(w.Minutes()))
		}
		if i == len(r.Weeks)-1 {
			picture := r.Picture(today)
			cell.Drawing, cell.Name = picture.SVG(s.words, week.Small), picture.Text(s.words)
		}
		l.Cells = append(l.Cells, cell)
	}
	tempo, how := r.TempoAndHow(s.words)
	l.Cells = append(l.Cells, dom.Cell{Text: tempo, Detail: how}, dom.Cell{Text: r.Left(s.words)})
	return l
}

func (s *classSheet) add() {
	name := diary.Name(dom.Value("class-new"))
	if name == "" {
		dom.Focus("class-new")
		return
	}
	full, when := false, s.host.Minute()
	if s.host.ChangeClass(func(c *class.Class) { full = c.Add(name) == nil; c.Readmit(name, when) }) && !full {
		dom.SetValue("class-new", "")
	}
	s.table()
}
