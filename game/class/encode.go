package class

import (
	"strconv"
	"strings"
)

// heading is the first line of a class's text; the number is the form's.
const heading = "agremens-class 1"

var escape = strings.NewReplacer("\\", "\\\\", "\n", "\\n", "\t", " ", "\r", "")

// Encode writes students as text: a heading, and for each a line with the name
// and lines with all there is, fields parted by tabs, and how many students
// there were at the end, so that a text that was cut is known.
func Encode(students ...*Student) string { return (&Class{Students: students}).Encode() }

// Encode writes a class, with a line for each who was erased before the first
// student.
func (c *Class) Encode() string {
	var b strings.Builder
	b.WriteString(heading + "\n")
	for _, g := range c.Gone {
		line(&b, "gone", g.Mark, whole(g.When), whole(truth(g.Back)))
	}
	for _, s := range c.Students {
		s.encode(&b)
	}
	line(&b, "end", strconv.Itoa(len(c.Students)))
	return b.String()
}

func (s *Student) encode(b *strings.Builder) {
	line(b, "student", s.Name, whole(s.Lesson), whole(s.Set))
	for _, a := range s.Also {
		line(b, "also", a)
	}
	if s.Note != (Note{}) {
		line(b, "note", whole(s.Note.When), s.Note.Text)
	}
	for i := range s.Works {
		w := &s.Works[i]
		line(b, "work", w.ID, w.Title, w.Bars, whole(w.Goal), whole(w.Sent), whole(w.Came), w.Fault, whole(w.Last), whole(w.Rounds),
			whole(w.Unaided), whole(w.Clean), strings.Join(w.Signs, " "), w.Why, w.Letters, w.Where)
		for _, d := range w.Days {
			line(b, "day", whole(d.Day), whole(d.Tapped), whole(d.Piano), whole(d.Rounds), whole(d.Clean),
				whole(d.ColdTempo), whole(d.ColdLate), whole(truth(d.ColdClean)), whole(d.Reached), whole(d.Played))
		}
	}
	for _, o := range s.Out {
		line(b, "out", whole(o.Day), o.Mark, whole(o.When))
	}
	for _, p := range s.Plan {
		line(b, "plan", whole(p.Day), p.Title, p.Bars, p.Why, p.Letters, whole(p.Begin), whole(p.Goal), strings.Join(p.Signs, " "), whole(p.Set))
	}
	for _, l := range s.strange {
		b.WriteString(l)
		b.WriteByte('\n')
	}
}

func line(b *strings.Builder, fields ...string) {
	for i, f := range fields {
		if i > 0 {
			b.WriteByte('\t')
		}
		if strings.ContainsAny(f, "\\\n\t\r") {
			f = escape.Replace(f)
		}
		b.WriteString(f)
	}
	b.WriteByte('\n')
}

// whole writes a number, none for 0.
func whole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}
