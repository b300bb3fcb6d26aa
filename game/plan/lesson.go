package plan

import (
	"strings"

	"agremens/game/class"
	"agremens/game/lesson"
	"agremens/realize/words"
)

// Line is one student in the list of a day's lessons.
type Line struct {
	Name string
	Task string // the piece and its bars, "" none
	Ask  string // what to ask first
	Hear string // what to hear first
	Note string // the teacher's own
}

// Lessons lists who has a lesson on a day of the week, 1 Monday to 7 Sunday, in
// order of their names.
func Lessons(students []*class.Student, weekday, today int, c *words.Catalogue) (lines []Line) {
	for _, s := range students {
		if s.Lesson != weekday {
			continue
		}
		l := Line{Name: s.Name, Note: s.Note.Text}
		r := s.Row(today, 1)
		if r.Work == nil {
			l.Ask = c.Say("What would you like to learn?")
			lines = append(lines, l)
			continue
		}
		l.Task = class.Piece(r.Work.Title, r.Work.Bars, c)
		week := &r.Weeks[0]
		if week.Days == 0 {
			l.Ask = c.Say("How did it go at home? Nothing came this week.")
		} else {
			l.Ask = strings.Replace(words.Sentence(c.Say(lesson.Ask(r.Work.Fault))), "?.", "?", 1)
		}
		l.Hear = r.LeftAt(c)
		if tempo := r.Tempo(c); tempo != "" {
			l.Hear += " " + words.Sentence(tempo)
		}
		lines = append(lines, l)
	}
	return lines
}
