package class

import (
	"strings"

	"agremens/game/week"
	"agremens/realize/sorting"
)

// Span is how many days stand in a cell of the table; the last cell ends with
// the day on which it is looked at.
const Span = 7

// Row is a student in the table.
type Row struct {
	Student *Student
	Weeks   []Week // the oldest first
	// Of the task practised last, or, where none was, given last: nil none.
	Work *Work
	// Clean is the fastest clean tempo of its latest day that has one, 0 none.
	Clean int
	// Played is the fastest that was clean at the instrument, on its latest day
	// that has one, 0 none. Clean counts these rounds too.
	Played int
	Look   Look
}

// Week is what was done in seven days.
type Week struct {
	First         int // the first of them, since 1 January 1970
	Days          int // on which there was anything
	Tapped, Piano int // minutes
	On            [Span]Day
}

// Minutes are all of a week's.
func (w *Week) Minutes() int { return w.Tapped + w.Piano }

// Look says why a teacher should look at a student first.
type Look int8

// Reasons to look, the most urgent first.
const (
	Nameless Look = iota + 1 // reports came without a name
	Silent                   // there is a task, and nothing came of the last week
	Stuck                    // the same fault as the week before
	Ready                    // the goal was reached
	Fine     Look = 0        // no reason
)

// Table lays out a class as it stands on a day, with so many weeks.
func (c *Class) Table(today, weeks int) []Row {
	rows := make([]Row, len(c.Students))
	for i, s := range c.Students {
		rows[i] = s.Row(today, weeks)
	}
	return rows
}

// Row lays out one student.
func (s *Student) Row(today, weeks int) Row {
	r := Row{Student: s, Weeks: make([]Week, weeks)}
	first := today + 1 - weeks*Span
	for i := range r.Weeks {
		r.Weeks[i].First = first + i*Span
	}
	last := 0
	for i := range s.Works {
		w := &s.Works[i]
		if r.Work == nil || max(w.Last, w.Sent) >= last {
			r.Work, last = w, max(w.Last, w.Sent)
		}
		if len(w.Days) == 0 || w.Days[len(w.Days)-1].Day < first {
			continue // a year of older tasks costs nothing
		}
		for _, d := range w.Told() {
			if at := d.Day - first; at >= 0 && at < weeks*Span {
				r.Weeks[at/Span].add(at%Span, d)
			}
		}
	}
	for i := range r.Weeks {
		for _, d := range r.Weeks[i].On {
			if d.Day != 0 {
				r.Weeks[i].Days++
			}
		}
	}
	if r.Work != nil {
		r.Clean, r.Played = r.Work.Reached()
	}
	r.Look = s.look(&r, today)
	return r
}

// Picture is the latest of a row's weeks as a picture.
func (r *Row) Picture(today int) week.Week {
	last := &r.Weeks[len(r.Weeks)-1]
	p := week.Week{Last: today, Open: true}
	if r.Work != nil {
		p.Goal = float64(r.Work.Goal)
	}
	began := false
	for i := range r.Weeks[:len(r.Weeks)-1] {
		began = began || r.Weeks[i].Days > 0
	}
	for i, d := range last.On {
		began = began || d.Day != 0
		p.Days[i] = week.Day{Clean: float64(d.Reached), Played: float64(d.Played), Tried: float64(max(d.ColdTempo, d.Reached)), Minutes: d.Tapped, Piano: d.Piano, Before: !began}
	}
	return p
}

func (w *Week) add(at int, d Day) {
	w.Tapped, w.Piano = w.Tapped+d.Tapped, w.Piano+d.Piano
	on := &w.On[at]
	*on = told([]Day{*on, d})
	on.Day = d.Day
}

func (s *Student) look(r *Row, today int) Look {
	now := &r.Weeks[len(r.Weeks)-1]
	switch {
	case s.Name == "" && len(s.Works) > 0:
		return Nameless
	case r.Work == nil:
		return Fine
	case now.Days == 0:
		if r.Work.begun() > today-2 {
			return Fine // given today or yesterday
		}
		return Silent
	case r.Work.Goal > 0 && max(r.Clean, r.Played) >= r.Work.Goal:
		return Ready
	case r.Work.Fault != "" && s.earlier(r.Work):
		return Stuck
	}
	return Fine
}

// earlier reports whether the fault of a task was left a week before: that of
// an earlier task, or that of the same one, practised for longer than a week.
func (s *Student) earlier(w *Work) bool {
	if len(w.Days) > 0 && w.Last-w.Days[0].Day >= Span {
		return true
	}
	for i := range s.Works {
		if o := &s.Works[i]; o != w && o.Fault == w.Fault && o.Last > 0 && o.Last < w.Last && w.Last-o.Last <= 2*Span {
			return true
		}
	}
	return false
}

// Order is what the table is sorted by.
type Order string

// Orders. Each falls back on the name.
const (
	ByName   Order = "name"
	ByLesson Order = "lesson"
	ByLook   Order = "look"
)

// Filter is what the table shows.
type Filter struct {
	Name   string // part of a name, "" all
	Lesson int    // day of the week, 0 all
	Look   bool   // only who needs a look
}

// Arrange sorts rows and leaves out what a filter does not let through.
func Arrange(rows []Row, by Order, f Filter) []Row {
	var out []Row
	name := strings.ToLower(strings.TrimSpace(f.Name))
	for _, r := range rows {
		s := r.Student
		if f.Lesson != 0 && s.Lesson != f.Lesson || f.Look && r.Look == Fine || !strings.Contains(s.Key(), name) {
			continue
		}
		out = append(out, r)
	}
	sorting.Stable(out, func(a, b Row) int {
		x, y := 0, 0
		switch by {
		case ByLesson:
			x, y = after(a.Student.Lesson), after(b.Student.Lesson)
		case ByLook:
			x, y = after(int(a.Look)), after(int(b.Look))
		}
		if x != y {
			return x - y
		}
		return strings.Compare(a.Student.Key(), b.Student.Key())
	})
	return out
}

// after puts what is not known last.
func after(n int) int {
	if n == 0 {
		return 100
	}
	return n
}

// Weekday is that of a day since 1 January 1970, which was a Thursday: 1 Monday
// to 7 Sunday.
func Weekday(day int) int { return (day+3)%7 + 1 }
