package class

import (
	"strings"

	"agremens/realize/sorting"
	"agremens/realize/words"
)

// Assigned is a task that a student was given.
type Assigned struct {
	Student *Student
	Work    *Work
}

// Assigned are the tasks that are about a piece, by its title, the one begun
// last first. A task that no report told the title of is about none.
func (c *Class) Assigned(title string) (all []Assigned) {
	for _, s := range c.Students {
		for i := range s.Works {
			if w := &s.Works[i]; w.Title != "" && strings.EqualFold(w.Title, title) {
				all = append(all, Assigned{s, w})
			}
		}
	}
	sorting.Stable(all, func(a, b Assigned) int { return b.Work.begun() - a.Work.begun() })
	return all
}

// Heading names an assigned task: "Ana: bars 1–4".
func (a Assigned) Heading(c *words.Catalogue) string {
	name := Name(a.Student.Name, c)
	if a.Work.Bars == "" {
		return name
	}
	return c.Say("{name}: bars {bars}", "{name}", name, "{bars}", strings.ReplaceAll(a.Work.Bars, "-", "–"))
}

// Lines say when it was given, why, and what came of it.
func (a Assigned) Lines(c *words.Catalogue) []string {
	lines := a.Work.When(c)
	r := Row{Work: a.Work}
	for _, d := range a.Work.Told() {
		if d.Reached > 0 {
			r.Clean = d.Reached
		}
	}
	if a.Work.Last == 0 {
		return append(lines, c.Say("Nothing came."))
	}
	tempo := r.Tempo(c)
	return append(lines, c.Say("Practised last on {date}: {tempo}.", "{date}", date(a.Work.Last, c), "{tempo}", tempo))
}

// Used says when a piece was opened last: "opened last on 25 Nov".
func Used(day int, c *words.Catalogue) string {
	return c.Say("opened last on {date}", "{date}", date(day, c))
}
