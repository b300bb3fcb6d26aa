package class

import (
	"slices"
	"strings"

	"agremens/realize/sorting"
)

// Planned is a task for a later week.
type Planned struct {
	Day         int // of the lesson it is meant for, since 1 January 1970
	Title, Bars string
	Why         string
	Letters     string
	Begin, Goal int      // felt beats a minute, 0 not known
	Signs       []string // keys of the kinds of ornament in it
}

// AddPlan plans a task, once, and reports whether there was room. Of tasks that
// differ only in what is told of them the fuller telling stays.
func (s *Student) AddPlan(p Planned) bool {
	for i, have := range s.Plan {
		if have.Day == p.Day && have.Letters == p.Letters {
			if p.fuller(have) {
				s.Plan[i] = p
			}
			return true
		}
	}
	if len(s.Plan) >= MaxPlan {
		return false
	}
	s.Plan = append(s.Plan, p)
	sorting.Stable(s.Plan, func(a, b Planned) int {
		if a.Day != b.Day {
			return a.Day - b.Day
		}
		return strings.Compare(a.Letters, b.Letters)
	})
	return true
}

// fuller orders what is told of one task, so that joining takes the same course
// in whatever order.
func (p Planned) fuller(o Planned) bool {
	tell := func(p Planned) string {
		return strings.Join([]string{p.Why, p.Title, p.Bars, whole(p.Begin), whole(p.Goal), strings.Join(p.Signs, " ")}, "\t")
	}
	return tell(p) > tell(o)
}

// Unplan takes a planned task out.
func (s *Student) Unplan(p Planned) {
	s.Plan = slices.DeleteFunc(s.Plan, func(o Planned) bool { return o.Day == p.Day && o.Letters == p.Letters })
}

// Coming are the planned tasks whose week is not over, in order.
func (s *Student) Coming(today int) (all []Planned) {
	for _, p := range s.Plan {
		if p.Day+Span > today {
			all = append(all, p)
		}
	}
	return all
}

// NextLesson is the day of the student's next lesson, today's among them; where
// the day of the week is not known it is tomorrow.
func (s *Student) NextLesson(today int) int {
	if s.Lesson == 0 {
		return today + 1
	}
	return today + (s.Lesson-Weekday(today)+7)%7
}
