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
	Set         int      // when it was planned, minutes since 1 January 1970, 0 not known
}

// MaxOut is how many planned tasks that were taken out are remembered; the
// oldest make room.
const MaxOut = 2 * MaxPlan

// Out remembers that a planned task was taken out, so that an older file does
// not bring it back.
type Out struct {
	Day  int    // for which it was planned
	Mark string // of its letters, see [number]
	When int    // minutes since 1 January 1970
}

// AddPlan plans a task at a minute since 1 January 1970, once, and reports
// whether there was room.
func (s *Student) AddPlan(p Planned, when int) bool {
	p.Set = max(when, s.outAt(p)+1)
	return s.joinPlan(p)
}

// joinPlan takes in a planned task, unless it was taken out since, and reports
// whether there was room. Of tasks that differ only in what is told of them the
// fuller telling stays.
func (s *Student) joinPlan(p Planned) bool {
	if at := s.outAt(p); at > 0 && p.Set <= at {
		return true
	}
	for i, have := range s.Plan {
		if have.Day == p.Day && have.Letters == p.Letters {
			set := max(p.Set, have.Set)
			if p.fuller(have) {
				s.Plan[i] = p
			}
			s.Plan[i].Set = set
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

// Unplan takes a planned task out at a minute since 1 January 1970.
func (s *Student) Unplan(p Planned, when int) {
	for _, have := range s.Plan {
		if have.Day == p.Day && have.Letters == p.Letters {
			s.takeOut(Out{p.Day, number(p.Letters), max(when, have.Set)})
			return
		}
	}
}

// outAt is when a planned task was taken out, 0 where it was not.
func (s *Student) outAt(p Planned) int {
	if len(s.Out) == 0 {
		return 0
	}
	m := number(p.Letters)
	for _, o := range s.Out {
		if o.Day == p.Day && o.Mark == m {
			return o.When
		}
	}
	return 0
}

// takeOut takes out what was planned before, and remembers the later telling.
func (s *Student) takeOut(o Out) {
	s.Plan = slices.DeleteFunc(s.Plan, func(p Planned) bool {
		return p.Day == o.Day && p.Set <= o.When && number(p.Letters) == o.Mark
	})
	at := slices.IndexFunc(s.Out, func(have Out) bool { return have.Day == o.Day && have.Mark == o.Mark })
	if at < 0 {
		s.Out = append(s.Out, o)
	} else {
		s.Out[at].When = max(s.Out[at].When, o.When)
	}
	sorting.Stable(s.Out, func(a, b Out) int {
		switch {
		case a.When != b.When:
			return a.When - b.When
		case a.Day != b.Day:
			return a.Day - b.Day
		}
		return strings.Compare(a.Mark, b.Mark)
	})
	if over := len(s.Out) - MaxOut; over > 0 {
		s.Out = append([]Out(nil), s.Out[over:]...)
	}
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
