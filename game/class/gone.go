package class

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/sorting"
)

// MaxGone is how many erased students are remembered; the oldest make room.
const MaxGone = 500

// Gone remembers that a student was erased, so that an older file does not
// bring her back. Her name is not kept, only a number made of it.
type Gone struct {
	Mark string // of the name, see [mark]
	When int    // minutes since 1 January 1970
	// Back says that the teacher added the name again since, which undoes it.
	Back bool
}

// mark is a name's number.
func mark(name string) string { return number(key(name)) }

// number is that of a text in hexadecimal: FNV-1a of 64 bits (the constants are
// those of the algorithm).
func number(text string) string {
	h := uint64(14695981039346656037)
	for _, b := range []byte(text) {
		h = (h ^ uint64(b)) * 1099511628211
	}
	return strconv.FormatUint(h, 16)
}

// Erased is when a student of a name was erased, minutes since 1 January 1970,
// 0 where none was or she was added again.
func (c *Class) Erased(name string) int {
	m := mark(name)
	for _, g := range c.Gone {
		if g.Mark == m && !g.Back {
			return g.When
		}
	}
	return 0
}

// Erase takes a student out, with everything, at a minute since 1 January 1970.
func (c *Class) Erase(name string, when int) {
	s := c.named(name)
	if s == nil {
		return
	}
	for _, n := range append([]string{s.Name}, s.Also...) {
		c.remember(Gone{mark(n), when, false})
	}
	c.remove(name)
}

// Readmit undoes that a name was erased: the teacher adds it by hand.
func (c *Class) Readmit(name string, when int) {
	if at := c.Erased(name); at > 0 {
		c.remember(Gone{mark(name), max(when, at+1), true})
	}
}

// remember takes the later telling; an erasure before what undoes it in the
// same minute.
func (c *Class) remember(g Gone) {
	for i := range c.Gone {
		if m := &c.Gone[i]; m.Mark == g.Mark {
			if g.When > m.When || g.When == m.When && m.Back {
				*m = g
			}
			c.orderGone()
			return
		}
	}
	c.Gone = append(c.Gone, g)
	c.orderGone()
}

func (c *Class) orderGone() {
	sorting.Stable(c.Gone, func(a, b Gone) int {
		if a.When != b.When {
			return a.When - b.When
		}
		return strings.Compare(a.Mark, b.Mark)
	})
	if over := len(c.Gone) - MaxGone; over > 0 {
		c.Gone = append([]Gone(nil), c.Gone[over:]...)
	}
}

// clear takes out of every student what is from before she was erased, and her
// where nothing is left. It returns whom it took out.
func (c *Class) clear() (names []string) {
	for _, s := range append([]*Student(nil), c.Students...) {
		if when := c.Erased(s.Name); when > 0 && !s.since(when) {
			names = append(names, s.Name)
			c.remove(s.Name)
		}
	}
	return names
}

// since keeps what is from after a minute, and reports whether there is any.
func (s *Student) since(when int) bool {
	if s.Note.When <= when {
		s.Note = Note{}
	}
	if s.Set <= when {
		s.Lesson, s.Set = 0, 0
	}
	var works []Work
	for i := range s.Works {
		if w := &s.Works[i]; w.since(when) {
			works = append(works, *w)
		}
	}
	s.Works = works
	s.order()
	s.Plan = slices.DeleteFunc(s.Plan, func(p Planned) bool { return p.Set <= when })
	s.Out = slices.DeleteFunc(s.Out, func(o Out) bool { return o.When <= when })
	return len(works) > 0 || s.Note.Text != "" || s.Set > 0 || len(s.Plan) > 0
}

// since is the same of a task. What is told by the day counts as before the
// erasure on its own day.
func (w *Work) since(when int) bool {
	day := when / (24 * 60)
	var days []Day
	for _, d := range w.Days {
		if d.Day > day {
			days = append(days, d)
		}
	}
	w.Days = days
	return len(days) > 0 || w.Sent > day
}
