package tap

import (
	"math"
	"strconv"

	"agremens/realize/words"
)

// Question is one of the four things a teacher listens for.
type Question int

// The four questions, in the order in which they are answered.
const (
	OnItsBeat   Question = iota // does it start on its beat, with the other hand?
	IsEven                      // are its quick notes alike?
	LandsInTime                 // does the next note come in time?
	BeatSteady                  // does the beat keep steady around it?
	questions
)

// Answer is one answer, over all ornaments of a round.
type Answer struct {
	Known bool
	// V is the number behind it: milliseconds, late positive, for OnItsBeat
	// and LandsInTime; the scatter as a share for IsEven, which is not Good
	// either where upper and lower notes limp; for BeatSteady the
	// share by which the beat stretched (positive) or ran ahead, the larger
	// of what followed the ornaments and what the other hand did under them.
	V float64
	// Good says that it meets the standard of a clean round.
	Good bool
	N    int // ornaments it was measured on
}

// Answers are the four answers, by question.
type Answers [questions]Answer

// cleanAfter is how far the two beats after an ornament may run ahead or hold
// back: as much as the other hand may under it.
const cleanAfter = cleanWait

// Answers returns the four answers of a judged round. beat is the felt beat
// in milliseconds.
func (r *Result) Answers(beat float64) Answers {
	var start, even, landing, after, wait, limp []float64
	take := func(to *[]float64, a Amount) {
		if a.Known {
			*to = append(*to, a.V)
		}
	}
	for i := range r.Ornaments {
		p := &r.Ornaments[i]
		take(&start, p.Start)
		take(&even, p.Uneven)
		if p.Limp.Known {
			limp = append(limp, math.Log(math.Max(0.05, p.Limp.V)))
		}
		take(&landing, p.Landing)
		take(&after, p.After)
		take(&wait, p.Wait)
	}
	limit := cleanLimit(beat)
	timed := func(x []float64) Answer {
		return Answer{Known: len(x) > 0, V: mean(x), N: len(x), Good: math.Abs(mean(x)) <= limit}
	}
	a := Answers{OnItsBeat: timed(start), LandsInTime: timed(landing)}
	a[IsEven] = Answer{Known: len(even) > 0, V: median(even), N: len(even),
		Good: median(even) <= cleanUneven && math.Abs(mean(limp)) <= -math.Log(cleanLimp)}
	steady := Answer{Known: len(after)+len(wait) > 0, N: max(len(after), len(wait))}
	for _, x := range [][]float64{after, wait} {
		if len(x) > 0 && math.Abs(mean(x)-1) > math.Abs(steady.V) {
			steady.V = mean(x) - 1
		}
	}
	steady.Good = math.Abs(steady.V) <= cleanAfter
	a[BeatSteady] = steady
	return a
}

// clean applies the written standard to the round. It looks at the ornaments
// together: of six, each measured with a hand's own scatter, one lies outside
// any limit by chance in most rounds of most players.
func (r *Result) clean(beat float64) bool {
	if r.Hit == 0 || 10*(r.Missed+r.Extra) > r.Wanted {
		return false
	}
	if _, well := r.worst(beat); !well {
		return false
	}
	for _, f := range r.Findings {
		if f.Fault && f.Code != CodeMissed && f.Code != CodeExtra {
			return false
		}
	}
	return true
}

// worst returns the first question whose answer does not meet the standard;
// well is true where all that are known do.
func (r *Result) worst(beat float64) (q Question, well bool) {
	for q, a := range r.Answers(beat) {
		if a.Known && !a.Good {
			return Question(q), false
		}
	}
	return 0, true
}

// AnswerWords is what is said of one question: where it is well, and
// otherwise; {n} is the number with its unit, {off} the same with the way it
// points ("20 ms late"). For IsEven, Less is said where the notes limp.
type AnswerWords struct{ Good, More, Less, Unknown string }

// Answer puts one answer into words: "on its beat: 70 ms late".
func (w *Words) Answer(q Question, a Answer) string {
	p := w.Answers[q]
	if !a.Known {
		return p.Unknown
	}
	n := words.Fill(w.Percent, "{n}", w.numbers.Number(math.Abs(100*a.V), 0))
	if q == OnItsBeat || q == LandsInTime {
		n = words.Fill(w.Milliseconds, "{n}", strconv.Itoa(round10(a.V)))
	}
	said := p.More
	switch {
	case a.Good:
		said = p.Good
	case a.V < 0, q == IsEven && a.V <= cleanUneven:
		said = p.Less
	}
	return words.Fill(said, "{n}", n, "{off}", w.off(q, a.V, n))
}

// off says which way an answer's number n points.
func (w *Words) off(q Question, v float64, n string) string {
	exact, before, after := round10(v) == 0, w.ByEarly, w.ByLate
	if q == BeatSteady {
		exact, before, after = math.Round(100*v) == 0, w.ByFaster, w.BySlower
	}
	switch {
	case exact:
		return w.Exact
	case v < 0:
		return words.Fill(before, "{n}", n)
	}
	return words.Fill(after, "{n}", n)
}

// AnswerLines puts all four into words, those that are known.
func (w *Words) AnswerLines(a Answers) []string {
	var lines []string
	for q := range questions {
		if a[q].Known {
			lines = append(lines, w.Answer(q, a[q]))
		}
	}
	return lines
}
