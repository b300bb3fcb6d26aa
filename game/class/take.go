package class

import (
	"slices"
	"strings"

	"agremens/game/diary"
	"agremens/game/glossary"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
)

// Outcome is what became of something that came.
type Outcome int8

// Outcomes.
const (
	Refused Outcome = iota // not taken: see Why
	Taken                  // something in it is new
	Again                  // all of it was here already
	Full                   // there is no room for another student
	Joined                 // a whole class was joined
	Erased                 // the student was erased since: see When
)

// Came is what became of one thing that came: a report, or a file in which
// there is none.
type Came struct {
	From    string // what it came in: a file's name, "" for what has none
	Outcome Outcome
	Student string // her name in the class, "" nobody named
	New     bool   // she was not in the class before
	Title   string
	Bars    string
	Days    int // dates that are new; of a class, students
	// Older says that the student has been given another task since.
	Older bool
	// Why is what was wrong, for what was refused.
	Why error
	// Damaged counts lines that could not be read.
	Damaged int
	// Met is what came of a class that was joined.
	Met Met
	// When is the day on which the student was erased.
	When int
}

// Take takes in a report that came in letters on a day.
func (c *Class) Take(from, letters string, today int) Came {
	r, err := packet.DecodeReport(letters)
	if err != nil {
		return Came{From: from, Why: err}
	}
	came := Came{From: from, Title: r.Title, Bars: r.Bars, Damaged: len(r.Unread)}
	w := workOf(&r)
	s := c.whose(&r)
	owner := r.Name
	if s != nil {
		owner = s.Name
	}
	if when := c.Erased(owner); when > 0 && !w.since(when) {
		came.Outcome, came.Student, came.When = Erased, owner, when/(24*60)
		return came
	}
	if s == nil {
		if s = c.Add(r.Name); s == nil {
			came.Outcome, came.Student = Full, r.Name
			return came
		}
		came.New = true
	}
	if have := s.Work(w.ID); w.Letters != "" && (have == nil || have.Letters == "") {
		if t, err := packet.DecodeTask(w.Letters); err == nil {
			w.Signs = SignsOf(t)
		} else {
			w.Letters = "" // the report is no worse for it
		}
	}
	came.Student = s.Name
	var news bool
	news, came.Days = s.take(w)
	came.Outcome = Again
	if news {
		came.Outcome = Taken
		s.work(&w).Came = today
		s.order()
	}
	mine := s.work(&w)
	for i := range s.Works {
		came.Older = came.Older || s.Works[i].begun() > mine.begun() && &s.Works[i] != mine
	}
	return came
}

// whose is the student a report is of: by its name, else, where none is given,
// the only one the task was given to; nil where she is not in the class.
func (c *Class) whose(r *packet.Report) *Student {
	if key(r.Name) != "" {
		return c.Find(r.Name)
	}
	var only *Student
	for _, s := range c.Students {
		if w := s.Work(r.Task); r.Task != "" && w != nil && w.Sent > 0 {
			if only != nil {
				return c.Find("")
			}
			only = s
		}
	}
	if only != nil {
		return only
	}
	return c.Find("")
}

// workOf is a report as part of a history.
func workOf(r *packet.Report) Work {
	w := Work{ID: clip(r.Task, 16), Title: clip(r.Title, maxText), Bars: clip(r.Bars, maxText), Goal: int(r.Goal + 0.5), Fault: clip(r.Fault, maxText), Where: clip(r.Where, maxText),
		Unaided: r.Unaided, Clean: r.CleanUnaided, Letters: r.Packed}
	if len(w.Letters) > maxLetters || strings.Trim(w.Letters, packetLetters) != "" {
		w.Letters = ""
	}
	for _, d := range r.Days {
		day, ok := diary.DayOf(d.Date)
		if !ok || day < 1 || day > maxDay {
			continue
		}
		w.Days = append(w.Days, Day{day, d.Tapped, d.Piano, d.Rounds, d.Clean, nearest(d.ColdTempo), nearest(d.ColdLate), d.ColdClean, nearest(d.Reached), nearest(d.Played)})
		w.Last = max(w.Last, day)
		w.Rounds = min(w.Rounds+d.Rounds, maxRounds)
	}
	return w
}

const packetLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"

func nearest(x float64) int {
	if x < 0 {
		return int(x - 0.5)
	}
	return int(x + 0.5)
}

// Give notes that a student was given a task on a day, for a reason.
func (s *Student) Give(t packet.Task, goal int, why string, today int) {
	s.take(Work{ID: t.ID(), Title: clip(t.Title, maxText), Bars: clip(t.Bars, maxText), Goal: goal, Sent: today,
		Signs: SignsOf(t), Why: clip(why, maxReason), Letters: packet.EncodeTask(t)})
}

// SignsOf returns the keys of the signs in a task's bars, as the glossary has
// them, each once; none where its score does not open.
func SignsOf(t packet.Task) []string {
	h, _, err := lesson.Open(t, nil, nil)
	if err != nil {
		return nil
	}
	var names []string
	for _, i := range h.Desk.Inside() {
		if name := glossary.Of(&h.Desk.Reading.Ornaments[i]); name != "" && !slices.Contains(names, name) && len(names) < maxSigns {
			names = append(names, name)
		}
	}
	return names
}
