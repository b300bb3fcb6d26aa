package class

import (
	"errors"
	"strconv"
	"strings"

	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/game/week"
	"agremens/realize/codec/packet"
	"agremens/realize/words"
)

// ErrNone says that there is nothing of ours in what came.
var ErrNone = words.Errorf(nil, "there is no report in it")

// ErrTask says that it is a task.
var ErrTask = words.Errorf(nil, "it is a task, not a report; open it by itself")

// ErrScore says that it is a score, of which one is opened at a time.
var ErrScore = words.Errorf(nil, "one score is opened at a time; open it by itself")

// Name is a student's name, or what stands in its place.
func Name(name string, c *words.Catalogue) string {
	if name == "" {
		return c.Say("(no name)")
	}
	return name
}

// Piece names a piece and its bars.
func Piece(title, bars string, c *words.Catalogue) string {
	if title == "" {
		title = c.Say("Untitled")
	}
	if bars != "" {
		title += ", " + c.Say("bars {bars}", "{bars}", strings.ReplaceAll(bars, "-", "–"))
	}
	return title
}

// Words says what became of what came.
func (k *Came) Words(c *words.Catalogue) string {
	text := k.words(c)
	if k.From != "" {
		text = c.Say("“{name}”: {what}", "{name}", k.From, "{what}", text)
	}
	return text
}

func (k *Came) words(c *words.Catalogue) string {
	who, piece := Name(k.Student, c), Piece(k.Title, k.Bars, c)
	switch k.Outcome {
	case Again:
		return c.Say("{student}, {piece}: it is here already.", "{student}", who, "{piece}", piece)
	case Full:
		return c.Say("{student}: not taken, the class has {n} students and no room for another.", "{student}", who, "{n}", strconv.Itoa(MaxStudents))
	case Erased:
		return c.Say("{student}, {piece}: not taken, for {student} was erased on {date}. To take it in, add the name again first.", "{student}", who, "{piece}", piece, "{date}", date(k.When, c))
	case Joined:
		return k.joined(c)
	case Refused:
		return c.Say("not taken. {why}", "{why}", why(k.Why, c))
	}
	text := c.Say("{student}, {piece}: {days}.", "{student}", who, "{piece}", piece, "{days}", k.days(c))
	if k.New {
		text += " " + c.Say("New in the class.")
	}
	if k.Older {
		text += " " + c.Say("An earlier task.")
	}
	if k.Damaged > 0 {
		text += " " + c.Say("Some numbers in this report make no sense and are left out.")
	}
	return text
}

func (k *Came) days(c *words.Catalogue) string {
	if k.Days == 0 {
		return c.Say("no new day")
	}
	return c.Count(k.Days, "{n} new day", "{n} new days")
}

func (k *Came) joined(c *words.Catalogue) string {
	text := c.Count(k.Days, "a class of {n} student, joined with this one.", "a class of {n} students, joined with this one.")
	if k.Damaged > 0 {
		text += " " + c.Count(k.Damaged, "{n} line in it is damaged or missing and was left out.", "{n} lines in it are damaged or missing and were left out.")
	}
	if len(k.Met.Erased) > 0 {
		text += " " + c.Say("Erased there, and so here too: {names}.", "{names}", strings.Join(k.Met.Erased, ", "))
	}
	if len(k.Met.Out) > 0 {
		text += " " + c.Say("Erased here before, and so left out: {names}. To take them in, add the names again first.", "{names}", strings.Join(k.Met.Out, ", "))
	}
	return text
}

// why puts an error into a sentence.
func why(err error, c *words.Catalogue) string {
	for _, known := range []error{packet.ErrForeign, packet.ErrCut, packet.ErrNewer, packet.ErrLarge, packet.ErrBroken} {
		if errors.Is(err, known) {
			return packet.Words(err, c)
		}
	}
	return words.Sentence(c.Tell(err))
}

// Summary counts what came: "11 taken, 1 here already, 2 not taken".
func Summary(all []Came, c *words.Catalogue) string {
	var n [Erased + 1]int
	for i := range all {
		n[all[i].Outcome]++
	}
	var parts []string
	for _, p := range []struct {
		n    int
		text string
	}{
		{n[Taken] + n[Joined], c.Count(n[Taken]+n[Joined], "{n} taken", "{n} taken")},
		{n[Again], c.Count(n[Again], "{n} here already", "{n} here already")},
		{n[Refused] + n[Full] + n[Erased], c.Count(n[Refused]+n[Full]+n[Erased], "{n} not taken", "{n} not taken")},
	} {
		if p.n > 0 {
			parts = append(parts, p.text)
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return strings.Join(parts, ", ") + "."
}

// LessonDay names the day of a student's lesson, "" where it is not known.
func (s *Student) LessonDay(c *words.Catalogue) string {
	if s.Lesson == 0 {
		return ""
	}
	return c.Say(week.Weekdays[s.Lesson-1])
}

// Tempo is the clean tempo against the goal: "72 of 80". What was clean at the
// instrument comes first: "66 of 80, at the piano; tapped 72".
func (r *Row) Tempo(c *words.Catalogue) string {
	tempo, how := r.TempoAndHow(c)
	if how != "" {
		tempo += ", " + how
	}
	return tempo
}

// TempoAndHow is Tempo in two parts; how is "" where all was tapped.
func (r *Row) TempoAndHow(c *words.Catalogue) (tempo, how string) {
	switch {
	case r.Work == nil || r.Work.Last == 0:
		return "", ""
	case max(r.Clean, r.Played) == 0:
		return c.Say("none clean yet"), ""
	case r.Played == 0:
		return r.of(r.Clean, c), ""
	}
	how = c.Say("at the piano")
	if r.Clean > r.Played {
		how += "; " + c.Say("tapped {tempo}", "{tempo}", strconv.Itoa(r.Clean))
	}
	return r.of(r.Played, c), how
}

func (r *Row) of(tempo int, c *words.Catalogue) string {
	if r.Work.Goal == 0 {
		return strconv.Itoa(tempo)
	}
	return c.Say("{tempo} of {goal}", "{tempo}", strconv.Itoa(tempo), "{goal}", strconv.Itoa(r.Work.Goal))
}

// Left is the one fault left, or why a student needs a look; LeftAt names the
// sign and its bar as well, where they are known.
func (r *Row) Left(c *words.Catalogue) string { return r.left("", c) }

// LeftAt is Left with the place.
func (r *Row) LeftAt(c *words.Catalogue) string {
	if r.Work == nil {
		return ""
	}
	return r.left(r.Work.Where, c)
}

func (r *Row) left(at string, c *words.Catalogue) string {
	switch r.Look {
	case Silent:
		if r.Work.Last > 0 {
			return c.Say("Nothing since {date}", "{date}", date(r.Work.Last, c))
		}
		return c.Say("Nothing came.")
	case Ready:
		return c.Say("Goal reached.")
	}
	if r.Work == nil || r.Work.Last == 0 {
		return ""
	}
	text := words.Sentence(lesson.LeftAt(r.Work.Fault, at, c))
	if r.Look == Stuck {
		text += " " + c.Say("As before.")
	}
	return text
}

// Report is a work as a report, for its words.
func (w *Work) Report(name string) packet.Report {
	r := packet.Report{Name: name, Task: w.ID, Title: w.Title, Bars: w.Bars, Goal: float64(w.Goal), Fault: w.Fault, Where: w.Where, Unaided: w.Unaided, CleanUnaided: w.Clean, Packed: w.Letters}
	for _, d := range w.Told() {
		r.Days = append(r.Days, packet.Day{Date: date8601(d.Day), Tapped: d.Tapped, Piano: d.Piano, Rounds: d.Rounds, Clean: d.Clean,
			ColdTempo: float64(d.ColdTempo), ColdLate: float64(d.ColdLate), ColdClean: d.ColdClean, Reached: float64(d.Reached), Played: float64(d.Played)})
	}
	return r
}

func date(day int, c *words.Catalogue) string { return diary.When{Day: day}.Short(c) }

func date8601(day int) string { return diary.When{Day: day}.Date() }

// Until names the seven days that end on a day: "to 25 Nov".
func Until(last int, c *words.Catalogue) string { return c.Say("to {date}", "{date}", date(last, c)) }

// When says when a task was given, why, and when a report last came.
func (w *Work) When(c *words.Catalogue) (lines []string) {
	if w.Sent > 0 {
		lines = append(lines, c.Say("Given on {date}", "{date}", date(w.Sent, c)))
	}
	if w.Why != "" {
		lines = append(lines, c.Say("Because: {reason}", "{reason}", w.Why))
	}
	return lines
}
