package packet

import (
	"fmt"
	"hash/crc32"
	"strconv"
	"strings"

	"agremens/realize"
)

// Bounds of a task's parts; what is longer is cut when read.
const (
	MaxWords     = 600 // letters of the teacher's words
	maxKinds     = 24
	maxNumbers   = 2000
	maxDecisions = 2000
	maxName      = 120 // letters of a name, key or title
)

// Lines of a task that hold a number; see [Task.Unread].
const (
	Goal    = "goal"
	Percent = "percent"
	Rate    = "rate"
	Pitch   = "pitch"
)

// Limits of numbers that are limited higher up in the program too.
const (
	maxPercent = 1000
	minPitch   = 300
	maxPitch   = 600
)

// Task is what a teacher sends home. Making sense of it (is there such an
// instrument, does the score open) is left to who opens it.
type Task struct {
	// Score is the passage as ABC, or as MusicXML where ABC cannot say it all.
	Score string
	// Title stands here too, so that a report can be read without the score.
	Title string
	Bars  string // as printed, "3-6"; "" all
	// Numbers are the measures' printed numbers, where the score's own differ.
	Numbers []string
	// Crossed are the notes (counted through the score) that stand on the
	// other staff than their voice, which ABC cannot say.
	Crossed []int
	// Goal is the goal tempo in quarters a minute, 0 the score's; Percent of
	// it is where practice starts, 0 meaning 100.
	Goal, Percent float64
	// Tradition, Prefer and Rate are the taste's; "" and 0 its defaults.
	Tradition, Prefer string
	Rate              float64
	Hand, Hear        string // hand words, "" as fits
	Follow            string // which repeats and jumps are played, "" none
	Instrument        string
	Tuning            string
	Pitch             float64 // of a', Hz; 0 the default
	Kinds             []string
	Words             string // the teacher's
	Decisions         []Decision
	Fingers           []Fingers
	// Free are the ornaments whose choice is the student's, by their place in
	// the reading, in order; all others are decided.
	Free []int
	// Taps are how the teacher tapped ornaments herself. They are shown, and
	// have no part in what the task is called; see [Task.ID].
	Taps []Taps
	// Unread names the numbers that lay outside their limits when the task was
	// read and stand at their defaults now: [Goal], [Percent], [Rate], [Pitch].
	// It is not written.
	Unread []string
}

// Decision is what was decided for one ornament.
type Decision struct {
	Ornament int // its place in the reading, from 0
	// Pass is the pass of a repeat, from 1; 0 means every pass.
	Pass   int
	Choice string // the choice's key
	Own    string // a realization of the teacher's own, in the reader's text form
}

// Fingers are the teacher's fingers for a choice of one ornament.
type Fingers struct {
	Ornament int
	Choice   string
	Fingers  string // "3 2 3 2"
}

// Taps are how one ornament was tapped.
type Taps struct {
	Ornament int // its place in the reading, from 0
	Tempo    int // felt beats a minute
	// Late is how late each note was, ms, "12 - -7"; "-" was not tapped.
	Late string
}

// EncodeTask writes a task as letters that a link may hold.
func EncodeTask(t Task) string { return pack(TaskKind, t.lines()) }

func (t Task) lines() string {
	var w writer
	w.text("title", t.Title)
	w.text("bars", t.Bars)
	w.text("numbers", strings.Join(t.Numbers, " "))
	w.number(Goal, t.Goal)
	w.number(Percent, t.Percent)
	w.text("tradition", t.Tradition)
	w.text("prefer", t.Prefer)
	w.number(Rate, t.Rate)
	w.text("hand", t.Hand)
	w.text("hear", t.Hear)
	w.text("follow", t.Follow)
	w.text("instrument", t.Instrument)
	w.text("tuning", t.Tuning)
	w.number(Pitch, t.Pitch)
	w.text("kinds", strings.Join(t.Kinds, " "))
	w.text("words", t.Words)
	for _, d := range t.Decisions {
		w.text("decision", fmt.Sprintf("%d %d %s\n%s", d.Ornament, d.Pass, d.Choice, d.Own))
	}
	for _, f := range t.Fingers {
		w.text("fingers", fmt.Sprintf("%d 0 %s\n%s", f.Ornament, f.Choice, f.Fingers))
	}
	for _, p := range t.Taps {
		w.text("taps", fmt.Sprintf("%d %d %s", p.Ornament, p.Tempo, p.Late))
	}
	w.text("free", places(t.Free))
	w.text("crossed", places(t.Crossed))
	w.text("score", t.Score)
	return w.String()
}

// DecodeTask reads a task. A number outside its limits is left at its default
// and named in [Task.Unread]. Errors wrap one of this package's; [Words] puts
// them into sentences.
func DecodeTask(letters string) (Task, error) {
	text, err := unpack(TaskKind, letters)
	if err != nil {
		return Task{}, err
	}
	var t Task
	var u unread
	eachLine(text, func(name, value string) {
		switch name {
		case "title":
			t.Title = clipped(value, maxName)
		case "bars":
			t.Bars = clipped(value, maxName)
		case "numbers":
			t.Numbers = wordList(value, maxNumbers)
		case Goal:
			t.Goal = u.number(name, value, realize.SlowestTempo, realize.FastestTempo)
		case Percent:
			t.Percent = u.number(name, value, 1, maxPercent)
		case "tradition":
			t.Tradition = clipped(value, maxName)
		case "prefer":
			t.Prefer = clipped(value, maxName)
		case Rate:
			t.Rate = u.number(name, value, realize.SlowestRate, realize.FastestRate)
		case "hand":
			t.Hand = clipped(value, maxName)
		case "hear":
			t.Hear = clipped(value, maxName)
		case "follow":
			t.Follow = clipped(value, maxName)
		case "instrument":
			t.Instrument = clipped(value, maxName)
		case "tuning":
			t.Tuning = clipped(value, maxName)
		case Pitch:
			t.Pitch = u.number(name, value, minPitch, maxPitch)
		case "kinds":
			t.Kinds = wordList(value, maxKinds)
		case "words":
			t.Words = clipped(value, MaxWords)
		case "decision":
			if d, ok := parseDecision(value); ok && len(t.Decisions) < maxDecisions {
				t.Decisions = append(t.Decisions, d)
			}
		case "fingers":
			if d, ok := parseDecision(value); ok && len(t.Fingers) < maxDecisions {
				t.Fingers = append(t.Fingers, Fingers{d.Ornament, d.Choice, clipped(d.Own, maxName)})
			}
		case "taps":
			if p, ok := parseTaps(value); ok && len(t.Taps) < maxDecisions {
				t.Taps = append(t.Taps, p)
			}
		case "free":
			t.Free = parsePlaces(value)
		case "crossed":
			t.Crossed = parsePlaces(value)
		case "score":
			t.Score = value
		}
	})
	if t.Score == "" {
		return Task{}, fmt.Errorf("%w: there is no score in it", ErrBroken)
	}
	t.Unread = u
	return t, nil
}

// ID is a short name of a task that its reports carry: the same task always
// has the same, whatever program version packed it, and whoever tapped it.
func (t Task) ID() string {
	t.Taps = nil
	return fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(t.lines())))
}

func parseDecision(s string) (d Decision, ok bool) {
	line, own, _ := strings.Cut(s, "\n")
	fields := strings.SplitN(line, " ", 3)
	if len(fields) < 3 {
		return d, false
	}
	at, ok := place(fields[0])
	pass, ok2 := place(fields[1])
	return Decision{Ornament: at, Pass: pass, Choice: clipped(fields[2], maxName), Own: clipped(own, 4000)}, ok && ok2
}

func parseTaps(s string) (p Taps, ok bool) {
	fields := strings.SplitN(s, " ", 3)
	if len(fields) < 3 {
		return p, false
	}
	at, ok := place(fields[0])
	tempo, err := strconv.Atoi(fields[1])
	return Taps{Ornament: at, Tempo: tempo, Late: clipped(fields[2], maxName)}, ok && err == nil && tempo >= realize.SlowestTempo && tempo <= realize.FastestTempo
}

// place reads a place in a list, from 0.
func place(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil && n >= 0 && n < 1<<20
}

// places writes places in a list, each but the first as its distance from the
// one before.
func places(all []int) string {
	words := make([]string, len(all))
	last := 0
	for i, n := range all {
		words[i] = strconv.Itoa(n - last)
		last = n
	}
	return strings.Join(words, " ")
}

func parsePlaces(s string) []int {
	var all []int
	last := 0
	for i, word := range wordList(s, maxDecisions) {
		n, ok := place(word)
		if !ok || i > 0 && n == 0 {
			continue
		}
		last += n
		all = append(all, last)
	}
	return all
}

// wordList returns at most n words of a line, each of bounded length.
func wordList(s string, n int) []string {
	all := strings.Fields(s)
	if len(all) > n {
		all = all[:n]
	}
	for i := range all {
		all[i] = clipped(all[i], maxName)
	}
	return all
}
