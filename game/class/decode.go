package class

import (
	"strconv"
	"strings"

	"agremens/game/diary"
	"agremens/realize/words"
)

// Bounds of what is read.
const (
	MaxSize    = 48 << 20 // bytes of a class's text
	maxStrange = 200      // lines of a later version that are kept for a student
)

// Limits of numbers: days, in the year 2517; minutes since 1970; felt beats a
// minute; rounds; minutes of a day; milliseconds. They are at least those of a
// report.
const (
	maxDay     = 200_000
	maxWhen    = maxDay * 24 * 60
	maxBeats   = 2000
	maxRounds  = 100_000
	maxMinutes = 24 * 60
	maxLate    = 100_000
	maxSigns   = 24
)

// Errors of [Decode].
var (
	ErrForeign = words.Errorf(nil, "this is no file of a class")
	ErrNewer   = words.Errorf(nil, "a newer program wrote it")
	ErrLarge   = words.Errorf(nil, "it is too large")
)

// Is reports whether a text says that it is a class.
func Is(text string) bool { return strings.HasPrefix(text, "agremens-class ") }

// Decode reads a class's text. A line that is damaged is left out and counted,
// and so is one more where the end is missing; a line that a later version
// wrote is kept as it is.
func Decode(text string) (c *Class, damaged int, err error) {
	if len(text) > MaxSize {
		return nil, 0, ErrLarge
	}
	if !Is(text) {
		return nil, 0, ErrForeign
	}
	first, rest, _ := strings.Cut(text, "\n")
	if n, err := strconv.Atoi(strings.TrimSpace(first[len("agremens-class "):])); err != nil {
		return nil, 0, ErrForeign
	} else if n > 1 {
		return nil, 0, ErrNewer
	}
	r := reader{class: &Class{}, damaged: 1}
	for len(rest) > 0 {
		var row string
		row, rest, _ = strings.Cut(rest, "\n")
		if row = strings.TrimRight(row, "\r"); row != "" {
			r.line(row)
		}
	}
	r.finish()
	r.class.sort()
	return r.class, r.damaged, nil
}

// reader is a class while it is read.
type reader struct {
	class   *Class
	now     *Student
	work    *Work // of which days are read, nil none
	damaged int
}

func (r *reader) line(row string) {
	f := fields{rest: row, more: true}
	kind := f.text()
	if kind == "student" {
		r.finish()
		s := &Student{Name: diary.Name(f.text()), Lesson: f.whole(0, 7), Set: f.whole(0, maxWhen)}
		if r.damaged += truth(f.bad); !f.bad && len(r.class.Students) < MaxStudents {
			r.now = s
		}
		return
	}
	if kind == "end" {
		r.finish()
		if n, err := strconv.Atoi(f.text()); err == nil && n == len(r.class.Students) {
			r.damaged--
		}
		return
	}
	if kind == "gone" {
		g := Gone{f.letters(), f.whole(1, maxWhen), f.whole(0, 1) == 1}
		if r.damaged += truth(f.bad || g.When == 0); !f.bad && g.When > 0 && len(g.Mark) <= 16 {
			r.class.remember(g)
		}
		return
	}
	s := r.now
	if s == nil {
		r.damaged++
		return
	}
	switch kind {
	case "also":
		s.also(f.text())
	case "note":
		s.Note = Note{f.whole(0, maxWhen), clip(f.text(), MaxNote)}
	case "work":
		r.endWork()
		r.work = f.work()
	case "day":
		if d := f.day(); r.work != nil && !f.bad {
			r.work.Days = append(r.work.Days, d)
		} else {
			r.damaged++
		}
		return
	case "plan":
		p := Planned{f.whole(0, maxDay), clip(f.text(), maxText), clip(f.text(), maxText), clip(f.text(), maxReason), f.letters(), f.whole(0, maxBeats), f.whole(0, maxBeats), strings.Fields(f.text()), f.whole(0, maxWhen)}
		p.Signs = p.Signs[:min(len(p.Signs), maxSigns)]
		if !f.bad {
			s.joinPlan(p)
		}
	case "out":
		o := Out{f.whole(0, maxDay), f.letters(), f.whole(1, maxWhen)}
		if f.bad = f.bad || o.When == 0 || len(o.Mark) > 16; !f.bad {
			s.takeOut(o)
		}
	default:
		if len(s.strange) < maxStrange {
			s.strange = append(s.strange, strings.Clone(row))
		}
	}
	r.damaged += truth(f.bad)
}

// endWork puts down the work that was read with its days.
func (r *reader) endWork() {
	if r.work == nil {
		return
	}
	if w := r.work; ordered(w.Days) && r.now.work(w) == nil {
		r.now.Works = append(r.now.Works, *w) // as [Encode] writes it
	} else {
		r.now.take(*w)
	}
	r.work = nil
}

func ordered(days []Day) bool {
	for i := 1; i < len(days); i++ {
		if compareDays(days[i-1], days[i]) >= 0 {
			return false
		}
	}
	return len(days) <= MaxDays
}

// finish puts down the student that was read.
func (r *reader) finish() {
	if r.now == nil {
		return
	}
	r.endWork()
	r.now.order()
	if twin := r.class.named(r.now.Name); twin != nil {
		twin.join(r.now)
	} else {
		r.class.Students = append(r.class.Students, r.now)
	}
	r.now = nil
}

// named is Find by the name alone.
func (c *Class) named(name string) *Student {
	for _, s := range c.Students {
		if s.Key() == key(name) {
			return s
		}
	}
	return nil
}

// fields reads the fields of a line one after the other. A field that is
// missing is empty: later versions add some at the end. bad says that one was
// no number or outside its limits.
type fields struct {
	rest string
	more bool
	bad  bool
}

func (f *fields) text() string {
	if !f.more {
		return ""
	}
	var s string
	if at := strings.IndexByte(f.rest, '\t'); at >= 0 {
		s, f.rest = f.rest[:at], f.rest[at+1:]
	} else {
		s, f.rest, f.more = f.rest, "", false
	}
	return unescape(s)
}

func unescape(s string) string {
	if strings.IndexByte(s, '\\') < 0 {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) {
			if i++; s[i] == 'n' {
				b.WriteByte('\n')
				continue
			}
		}
		b.WriteByte(s[i])
	}
	return b.String()
}

func (f *fields) whole(least, most int) int {
	// Nearly all there is are short numbers: these are read here.
	n, at := 0, 0
	for ; at < len(f.rest) && at < 9 && f.rest[at]-'0' <= 9; at++ {
		n = 10*n + int(f.rest[at]-'0')
	}
	if end := at == len(f.rest); end && f.more || !end && f.rest[at] == '\t' {
		if end {
			f.rest, f.more = "", false
		} else {
			f.rest = f.rest[at+1:]
		}
		if at > 0 && (n < least || n > most) {
			f.bad, n = true, 0
		}
		return n
	}
	s := f.text()
	if s == "" {
		return 0
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < least || n > most {
		f.bad = true
		return 0
	}
	return n
}

// letters reads a packet's letters; anything else is left out.
func (f *fields) letters() string {
	s := f.text()
	if len(s) > maxLetters {
		f.bad = true
		return ""
	}
	for _, r := range []byte(s) {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_') {
			f.bad = true
			return ""
		}
	}
	return s
}

func (f *fields) work() *Work {
	w := &Work{
		ID: clip(f.text(), 16), Title: clip(f.text(), maxText), Bars: clip(f.text(), maxText),
		Goal: f.whole(0, maxBeats), Sent: f.whole(0, maxDay), Came: f.whole(0, maxDay),
		Fault: clip(f.text(), maxText), Last: f.whole(0, maxDay), Rounds: f.whole(0, maxRounds),
		Unaided: f.whole(0, maxRounds), Clean: f.whole(0, maxRounds), Signs: strings.Fields(f.text()), Why: clip(f.text(), maxReason), Letters: f.letters(), Where: clip(f.text(), maxText),
	}
	w.Signs = w.Signs[:min(len(w.Signs), maxSigns)]
	w.Clean = min(w.Clean, w.Unaided)
	return w
}

func (f *fields) day() Day {
	return Day{Day: f.whole(1, maxDay), Tapped: f.whole(0, maxMinutes), Piano: f.whole(0, maxMinutes), Rounds: f.whole(0, maxRounds), Clean: f.whole(0, maxRounds),
		ColdTempo: f.whole(0, maxBeats), ColdLate: f.whole(-maxLate, maxLate), ColdClean: f.whole(0, 1) == 1, Reached: f.whole(0, maxBeats), Played: f.whole(0, maxBeats)}
}
