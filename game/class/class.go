// Package class is a teacher's students: who they are, when they come, what
// they were given and what came back of it. It is pure; whoever keeps it keeps
// its text ([Encode], [Decode]).
//
// Everything joins: the report that comes twice counts once, two reports on
// the same task are one history, and so are the classes of two devices. Joining
// takes the same course in whatever order things arrive.
package class

import (
	"strings"

	"agremens/game/diary"
	"agremens/realize/sorting"
)

// Limits of a class. What is more than that is not taken, and that is said;
// days and tasks make room for later ones.
const (
	MaxStudents = 400
	MaxWorks    = 600 // tasks of one student: ten years of weekly ones
	MaxDays     = 400 // days told of one task
	MaxPlan     = 60  // tasks planned for one student
	MaxNote     = 4000
	maxAlso     = 12
	maxText     = 120
	maxReason   = 300
	maxLetters  = 64 << 10 // of a task
)

// Class is the students, in order of their names, and who was erased.
type Class struct {
	Students []*Student
	Gone     []Gone // in order of when
}

// Student is one student. The zero value is one nobody has named.
type Student struct {
	Name string
	// Also are other names under which her reports come.
	Also []string
	// Lesson is the day of the week of her lesson, 1 Monday to 7 Sunday, 0 not
	// known; Set is when that was said, minutes since 1 January 1970.
	Lesson, Set int
	Note        Note
	Works       []Work // the one begun first stands first
	Plan        []Planned
	Out         []Out // of the plan, in order of when
	// strange are lines that this version does not know, kept for the next.
	strange []string
}

// Note is the teacher's own, which never leaves the device but in the file of
// the whole class.
type Note struct {
	When int // minutes since 1 January 1970
	Text string
}

// Work is a task and all that is known of it.
type Work struct {
	ID    string // the task's, as its reports carry it
	Title string
	Bars  string // "3-6", "" all
	Goal  int    // felt beats a minute, 0 not known
	// Sent is the day on which it was given from this class, Came that on which
	// a report last brought something new; days since 1 January 1970, 0 not.
	Sent, Came int
	// Fault is the code of the fault left, as of the report with the latest day
	// (Last) and the most rounds (Rounds).
	Fault        string
	Where        string // the printed bar and the sign of it, "5 trill"
	Last, Rounds int
	// Unaided counts rounds without clicks and moving line, Clean those of them
	// that were clean: the most that any report told.
	Unaided, Clean int
	// Signs are the keys of the kinds of ornament in it.
	Signs []string
	Why   string // the reason it was drafted for, the teacher's own
	// Letters are the task itself, "" where no report had room for it.
	Letters string
	Days    []Day // in order
}

// Day is what one device tells of one day. The first round of a day does not
// change any more, so two reports that agree in it come from the same device
// and the larger one holds the smaller; others add up.
type Day struct {
	Day           int // since 1 January 1970
	Tapped, Piano int // minutes
	Rounds, Clean int
	// The day's first round, cold: felt beats a minute (0 none yet), how late
	// its ornaments started (ms, early negative), whether it was clean.
	ColdTempo, ColdLate int
	ColdClean           bool
	Reached             int // fastest clean tempo, 0 none
	Played              int // fastest that was clean at the instrument, 0 none
}

// key is what tells names apart: small and capital letters, and blanks, do not.
func key(name string) string { return strings.ToLower(diary.Name(name)) }

// Key is the student's, by which she is kept; it changes with her name.
func (s *Student) Key() string { return key(s.Name) }

// Find returns the student of a name, or of another name she goes by; nil
// where there is none.
func (c *Class) Find(name string) *Student {
	name = key(name)
	for _, s := range c.Students {
		if s.Key() == name {
			return s
		}
	}
	if name == "" {
		return nil
	}
	for _, s := range c.Students {
		for _, also := range s.Also {
			if key(also) == name {
				return s
			}
		}
	}
	return nil
}

// Add returns the student of a name, a new one where there was none; nil where
// there is no room.
func (c *Class) Add(name string) *Student {
	if s := c.Find(name); s != nil {
		return s
	}
	if len(c.Students) >= MaxStudents {
		return nil
	}
	s := &Student{Name: diary.Name(name)}
	c.Students = append(c.Students, s)
	c.sort()
	return s
}

func (c *Class) sort() {
	sorting.Stable(c.Students, func(a, b *Student) int { return strings.Compare(a.Key(), b.Key()) })
}

func (c *Class) remove(name string) {
	kept := c.Students[:0]
	for _, s := range c.Students {
		if s.Key() != key(name) {
			kept = append(kept, s)
		}
	}
	c.Students = kept
}

// Rename gives a student another name; the old one stays hers. Where another
// student has that name, the two become one. It returns the student, nil where
// there is none of the old name or the new one is empty.
func (c *Class) Rename(name, to string) *Student {
	s, to := c.Find(name), diary.Name(to)
	if s == nil || to == "" {
		return nil
	}
	old := s.Name
	if other := c.Find(to); other != nil && other != s {
		c.remove(old)
		other.join(s)
		other.also(old)
		return other
	}
	s.Name = to
	s.also(old)
	c.sort()
	return s
}

// also notes another name, unless it is hers.
func (s *Student) also(name string) {
	name = diary.Name(name)
	if key(name) == "" || key(name) == s.Key() {
		name = ""
	}
	all := []string{}
	for _, a := range append(s.Also, name) {
		if a == "" || key(a) == s.Key() || contains(all, a) || len(all) >= maxAlso {
			continue
		}
		all = append(all, a)
	}
	s.Also = all
	sorting.Stable(s.Also, strings.Compare)
}

func contains(all []string, name string) bool {
	for _, a := range all {
		if key(a) == key(name) {
			return true
		}
	}
	return false
}

// SetLesson says on which day of the week the lesson is, 0 on none.
func (s *Student) SetLesson(day, when int) { s.Lesson, s.Set = min(max(day, 0), 7), when }

// SetNote writes the teacher's note.
func (s *Student) SetNote(text string, when int) {
	s.Note = Note{when, clip(strings.TrimSpace(text), MaxNote)}
}

// plain reports whether a text is letters of ASCII alone, as nearly all are.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] >= 0x7f {
			return false
		}
	}
	return true
}

// clip returns at most n characters, without control characters but line
// breaks.
func clip(s string, n int) string {
	if len(s) <= n && plain(s) {
		return s
	}
	s = strings.Map(func(r rune) rune {
		if r == '\t' {
			return ' '
		}
		if r < ' ' && r != '\n' || r == 0x7f || r == '\uFFFD' {
			return -1
		}
		return r
	}, s)
	if len(s) <= n {
		return s
	}
	if runes := []rune(s); len(runes) > n {
		return string(runes[:n])
	}
	return s
}
