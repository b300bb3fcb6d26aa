package class

import (
	"slices"
	"strings"

	"agremens/realize/sorting"
)

// Met is what came of joining another class.
type Met struct {
	Fresh, Left int // students that are new; left out for want of room
	// Erased are students who were erased there and so are here too, Out those
	// who were erased here and so were not taken.
	Erased, Out []string
}

// Join takes in another class, that of another device for example.
func (c *Class) Join(other *Class) (m Met) {
	for _, g := range other.Gone {
		c.remember(g)
	}
	fresh := map[string]bool{}
	for _, s := range other.Students {
		mine := c.Find(s.Name)
		if mine == nil {
			if mine = c.Add(s.Name); mine == nil {
				m.Left++
				continue
			}
			fresh[mine.Key()] = true
		}
		mine.join(s)
		mine.also(s.Name)
	}
	for _, name := range c.clear() {
		if fresh[key(name)] {
			m.Out = append(m.Out, name)
			delete(fresh, key(name))
		} else {
			m.Erased = append(m.Erased, name)
		}
	}
	m.Fresh = len(fresh)
	return m
}

// join takes in what is known of the same student elsewhere.
func (s *Student) join(o *Student) {
	for _, a := range o.Also {
		s.also(a)
	}
	if o.Set > s.Set || o.Set == s.Set && o.Lesson > s.Lesson {
		s.Lesson, s.Set = o.Lesson, o.Set
	}
	s.Note = s.Note.join(o.Note)
	for i := range o.Works {
		s.take(o.Works[i])
	}
	for _, out := range o.Out {
		s.takeOut(out)
	}
	for _, p := range o.Plan {
		s.joinPlan(p)
	}
	for _, line := range o.strange {
		if !slices.Contains(s.strange, line) && len(s.strange) < maxStrange {
			s.strange = append(s.strange, line)
		}
	}
}

// join keeps both notes, the newer one first, where neither holds the other:
// which of two devices a teacher wrote on last is no reason to lose a sentence.
func (n Note) join(o Note) Note {
	if n.When < o.When || n.When == o.When && n.Text < o.Text {
		n, o = o, n
	}
	switch {
	case strings.Contains(n.Text, o.Text):
	case strings.Contains(o.Text, n.Text):
		n.Text = o.Text
	default:
		n.Text = clip(n.Text+"\n"+o.Text, MaxNote)
	}
	return n
}

// Work returns the work of a task, nil where the student has none.
func (s *Student) Work(id string) *Work {
	for i := range s.Works {
		if s.Works[i].ID == id {
			return &s.Works[i]
		}
	}
	return nil
}

// work is where what came belongs: the same task, or, where no task is named,
// the same bars of the same piece.
func (s *Student) work(w *Work) *Work {
	if w.ID != "" {
		return s.Work(w.ID)
	}
	for i := range s.Works {
		if mine := &s.Works[i]; mine.ID == "" && mine.Title == w.Title && mine.Bars == w.Bars {
			return mine
		}
	}
	return nil
}

// take takes in a work with its days. It reports whether anything in it is new,
// and how many dates are.
func (s *Student) take(w Work) (news bool, days int) {
	all := w.Days
	mine := s.work(&w)
	if mine == nil {
		w.Days = nil
		s.Works = append(s.Works, w)
		mine, news = &s.Works[len(s.Works)-1], true
	}
	had := len(mine.Told())
	news = mine.join(&w) || news
	for _, d := range all {
		news = mine.joinDay(d) || news
	}
	days = len(mine.Told()) - had
	s.order()
	return news, days
}

// order brings the works in order of when they were begun, and lets the oldest
// make room.
func (s *Student) order() {
	sorting.Stable(s.Works, func(a, b Work) int {
		if c := a.begun() - b.begun(); c != 0 {
			return c
		}
		for _, pair := range [][2]string{{a.ID, b.ID}, {a.Title, b.Title}, {a.Bars, b.Bars}} {
			if c := strings.Compare(pair[0], pair[1]); c != 0 {
				return c
			}
		}
		return 0
	})
	if over := len(s.Works) - MaxWorks; over > 0 {
		s.Works = append([]Work(nil), s.Works[over:]...)
	}
}

// begun is the day on which a work was given or first practised.
func (w *Work) begun() int {
	day := w.Sent
	if len(w.Days) > 0 && (day == 0 || w.Days[0].Day < day) {
		day = w.Days[0].Day
	}
	if day == 0 {
		day = w.Came
	}
	return day
}

// join takes in another telling of the same task, without its days, and
// reports whether anything in it was new.
func (w *Work) join(o *Work) (news bool) {
	later := o.Last > w.Last || o.Last == w.Last && (o.Rounds > w.Rounds || o.Rounds == w.Rounds && o.Fault > w.Fault || o.Rounds == w.Rounds && o.Fault == w.Fault && o.Where > w.Where)
	if later {
		news = true
		w.Last, w.Rounds, w.Fault, w.Where = o.Last, o.Rounds, o.Fault, o.Where
	}
	for _, text := range [][2]*string{{&w.Title, &o.Title}, {&w.Bars, &o.Bars}, {&w.Letters, &o.Letters}, {&w.Why, &o.Why}} {
		// The longer telling: in a report that was long, titles are cut.
		if mine, its := *text[0], *text[1]; len(its) > len(mine) || len(its) == len(mine) && its > mine {
			*text[0], news = its, true
		}
	}
	if o.Goal > w.Goal {
		w.Goal, news = o.Goal, true
	}
	if len(w.Signs) == 0 {
		w.Signs = o.Signs
	}
	if o.Unaided > w.Unaided || o.Unaided == w.Unaided && o.Clean > w.Clean {
		w.Unaided, w.Clean, news = o.Unaided, o.Clean, true
	}
	if w.Sent == 0 || o.Sent != 0 && o.Sent < w.Sent {
		w.Sent = o.Sent
	}
	w.Came = max(w.Came, o.Came)
	return news
}

// joinDay takes in what a device tells of a day, and reports whether it was new.
func (w *Work) joinDay(d Day) bool {
	for i := range w.Days {
		m := &w.Days[i]
		if m.Day != d.Day || m.ColdTempo != d.ColdTempo || m.ColdLate != d.ColdLate || m.ColdClean != d.ColdClean {
			continue
		}
		before := *m
		m.Tapped, m.Piano = max(m.Tapped, d.Tapped), max(m.Piano, d.Piano)
		m.Rounds, m.Clean = max(m.Rounds, d.Rounds), max(m.Clean, d.Clean)
		m.Reached = max(m.Reached, d.Reached)
		m.Played = max(m.Played, d.Played)
		return *m != before
	}
	w.Days = append(w.Days, d)
	sorting.Stable(w.Days, compareDays)
	if over := len(w.Days) - MaxDays; over > 0 {
		w.Days = append([]Day(nil), w.Days[over:]...)
	}
	return true
}

func compareDays(a, b Day) int {
	for _, pair := range [][2]int{{a.Day, b.Day}, {a.ColdTempo, b.ColdTempo}, {a.ColdLate, b.ColdLate}, {truth(a.ColdClean), truth(b.ColdClean)}} {
		if pair[0] != pair[1] {
			return pair[0] - pair[1]
		}
	}
	return 0
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Reached is the fastest clean tempo of the latest day that has one, and the
// fastest that was clean at the instrument on the latest day that has one, in
// felt beats a minute, 0 none. A day's clean tempo counts both.
func (w *Work) Reached() (clean, played int) {
	for _, d := range w.Told() {
		if d.Reached > 0 {
			clean = d.Reached
		}
		if d.Played > 0 {
			played = d.Played
		}
	}
	return clean, played
}

// Told returns one day a date: what several devices tell of it is added, and
// what a device told before its first round with ornaments goes into what it
// told later.
func (w *Work) Told() []Day {
	var all []Day
	for i := 0; i < len(w.Days); {
		n := i + 1
		for n < len(w.Days) && w.Days[n].Day == w.Days[i].Day {
			n++
		}
		all = append(all, told(w.Days[i:n]))
		i = n
	}
	return all
}

// told is one date; a day without a first round stands first.
func told(parts []Day) Day {
	if len(parts) > 1 && parts[0].ColdTempo == 0 {
		for _, p := range parts[1:] {
			if p.Rounds >= parts[0].Rounds && p.Tapped >= parts[0].Tapped && p.Piano >= parts[0].Piano {
				parts = parts[1:]
				break
			}
		}
	}
	sum := Day{Day: parts[0].Day}
	for _, p := range parts {
		sum.Tapped, sum.Piano = sum.Tapped+p.Tapped, sum.Piano+p.Piano
		sum.Rounds, sum.Clean = sum.Rounds+p.Rounds, sum.Clean+p.Clean
		sum.Reached = max(sum.Reached, p.Reached)
		sum.Played = max(sum.Played, p.Played)
		if sum.ColdTempo == 0 {
			sum.ColdTempo, sum.ColdLate, sum.ColdClean = p.ColdTempo, p.ColdLate, p.ColdClean
		}
	}
	return sum
}
