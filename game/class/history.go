package class

import (
	"strconv"
	"strings"

	"agremens/game/diary"
	"agremens/game/glossary"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/realize/words"
)

// WithLog returns the student with what the log of this device has of her as
// well: what she tapped in a lesson and what her reports tell are one history.
// Where the log has nothing of her it is the student herself.
func (s *Student) WithLog(d *diary.Diary) *Student {
	if !s.in(d) {
		return s
	}
	both := *s
	both.Works = nil
	for _, w := range s.Works {
		both.Works = append(both.Works, w)
		last := &both.Works[len(both.Works)-1]
		last.Days = append([]Day(nil), w.Days...)
	}
	for _, name := range append([]string{s.Name}, s.Also...) {
		if name == "" {
			continue // nobody named taps for everybody
		}
		own := d.Of(name)
		for _, p := range own.Passages() {
			progress := own.Progress(name, p.Key)
			r := packet.Report{Title: p.Title, Fault: progress.Fault, Where: progress.Where}
			if id, ok := strings.CutPrefix(p.Key, TaskPrefix); ok {
				r.Task = id
			}
			r.Days, r.Goal = lesson.Days(own, name, p.Key)
			r.Unaided, r.CleanUnaided = lesson.Unaided(own, name, p.Key)
			if w := workOf(&r); len(w.Days) > 0 {
				both.take(w)
			}
		}
	}
	return &both
}

// in reports whether a log has anything of the student.
func (s *Student) in(d *diary.Diary) bool {
	if d.Empty() {
		return false
	}
	for _, name := range append([]string{s.Name}, s.Also...) {
		if name != "" && !d.Of(name).Empty() {
			return true
		}
	}
	return false
}

// TaskPrefix begins the key of a task in the log, see [lesson.DeskID].
const TaskPrefix = "task-"

// Stayed is what has stayed of something over all tasks: of a piece, or of a
// sign.
type Stayed struct {
	Name string
	Days int
	// First and Latest are the first rounds, cold, of the first and the latest
	// day that had one, in felt beats a minute.
	First, Latest int
	LatestClean   bool
	Reached, Goal int
	// Days of First, of Latest, of Reached, and the latest of all.
	first, latest, reached, last int
}

// Pieces is what has stayed by piece, the one practised last first.
func (s *Student) Pieces(c *words.Catalogue) []Stayed {
	return s.stayed(func(w *Work) []string { return []string{Piece(w.Title, "", c)} })
}

// Signs is what has stayed by sign, the one practised last first.
func (s *Student) Signs(c *words.Catalogue) []Stayed {
	return s.stayed(func(w *Work) (names []string) {
		for _, key := range w.Signs {
			if e, ok := glossary.Find(key); ok {
				names = append(names, e.Title(c))
			}
		}
		return names
	})
}

func (s *Student) stayed(names func(*Work) []string) (all []Stayed) {
	at := map[string]int{}
	for i := range s.Works {
		w := &s.Works[i]
		days := w.Told()
		if len(days) == 0 {
			continue
		}
		for _, name := range names(w) {
			n, ok := at[name]
			if !ok {
				n = len(all)
				at[name] = n
				all = append(all, Stayed{Name: name})
			}
			all[n].add(w, days)
		}
	}
	for i := range all { // a few lines: the latest goes to the front
		for j := i; j > 0 && all[j].last > all[j-1].last; j-- {
			all[j], all[j-1] = all[j-1], all[j]
		}
	}
	return all
}

func (t *Stayed) add(w *Work, days []Day) {
	t.Days += len(days)
	t.last = max(t.last, days[len(days)-1].Day)
	for _, d := range days {
		if d.ColdTempo > 0 && (t.first == 0 || d.Day < t.first) {
			t.First, t.first = d.ColdTempo, d.Day
		}
		if d.ColdTempo > 0 && d.Day >= t.latest {
			t.Latest, t.LatestClean, t.latest = d.ColdTempo, d.ColdClean, d.Day
		}
		if d.Reached > 0 && d.Day >= t.reached {
			t.Reached, t.reached = d.Reached, d.Day
		}
	}
	if w.Goal > 0 {
		t.Goal = w.Goal
	}
}

// StayedHead names the columns of [Stayed.Cells].
//
//words:texts
var StayedHead = []string{"Piece, sign", "Days", "First round of the day: first", "latest", "Clean at", "Goal"}

// Cells puts it into the columns of a table.
func (t *Stayed) Cells(c *words.Catalogue) []string {
	number := func(n int) string {
		if n == 0 {
			return "–"
		}
		return strconv.Itoa(n)
	}
	latest := number(t.Latest)
	if t.LatestClean {
		latest = c.Say("{tempo} clean", "{tempo}", latest)
	}
	return []string{t.Name, strconv.Itoa(t.Days), number(t.First), latest, number(t.Reached), number(t.Goal)}
}
