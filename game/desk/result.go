package desk

import (
	"math"
	"slices"
	"strconv"

	"agremens/game/round"
	"agremens/realize/tap"
	"agremens/realize/words"
)

// ResultWords is what the page says after a tapping round.
type ResultWords struct {
	Summary string
	Next    string
	Answers []string // the four answers, each with its number
	Figures string
	Notes   []string
	// Data carries the figures for a program that drives the page.
	Data map[string]string

	counted string // the figures without the times
}

// First returns what is told first: one sentence and one step.
func (w ResultWords) First() []string { return said(w.Summary, w.Next) }

// Rest returns what is behind it: the four answers, the figures, the notes.
func (w ResultWords) Rest() []string {
	return said(append(append(append([]string{}, w.Answers...), w.Figures), w.Notes...)...)
}

func said(lines ...string) []string {
	return slices.DeleteFunc(lines, func(line string) bool { return line == "" })
}

// WordsOf puts a result into words. beat is the felt beat, ms; gaps counts the
// holes in the sound, jumps the times the device moved without one. The
// language is that of the settings.
func WordsOf(r *tap.Result, s round.Settings, beat float64, gaps, jumps int) ResultWords {
	c := s.Words
	w := ResultWords{Summary: r.Summary, Next: r.Next, Data: data(r, gaps, jumps)}
	if r.Spoilt != "" {
		return w // the reason, and nothing that reads like a verdict
	}
	w.Answers = tap.WordsIn(c).AnswerLines(r.Answers(beat))
	w.counted = c.Say("{n} of {all} notes tapped", "{n}", strconv.Itoa(r.Hit), "{all}", strconv.Itoa(r.Wanted))
	if s.Keys {
		w.counted = c.Say("{n} of {all} notes played", "{n}", strconv.Itoa(r.Hit), "{all}", strconv.Itoa(r.Wanted))
	}
	if r.Missed > 0 {
		w.counted += ", " + c.Say("{n} missed", "{n}", strconv.Itoa(r.Missed))
	}
	if r.Extra > 0 {
		w.counted += ", " + c.Say("{n} extra", "{n}", strconv.Itoa(r.Extra))
	}
	w.Figures = w.counted + "."
	if r.Hit > 0 {
		w.Figures = c.Say("{counted}; on average {error}, spread {ms} ms.", "{counted}", w.counted, "{error}", signed(c, r.MeanMS), "{ms}", c.Number(r.SpreadMS, 0))
	}
	// That there is too little to tell is said by the finding itself.
	if r.Doubt != "" && (len(r.Findings) == 0 || r.Findings[0].Code != tap.CodeTooFew && r.Findings[0].Code != tap.CodeFewPlain) {
		w.Notes = append(w.Notes, c.Say("Not certain: {why}", "{why}", r.Doubt))
	}
	if n := r.Together.N; n >= leastTogether {
		w.Notes = append(w.Notes, c.Say("The hands on plain notes: the right hand {error} (spread {ms} ms).", "{error}", after(c, r.Together.MeanMS), "{ms}", c.Number(r.Together.SpreadMS, 0)))
	}
	if rate, n := trillRate(r); n > 0 {
		w.Notes = append(w.Notes, c.Say("The long ornaments ran at {n} notes per second.", "{n}", c.Number(rate, 1)))
	}
	if s.Following() {
		w.Notes = append(w.Notes, c.Say("The hand you tapped sounded too: this round shows how you follow. Next time tap it alone."))
	}
	return w
}

// data carries the figures of a round, spoilt or not.
func data(r *tap.Result, gaps, jumps int) map[string]string {
	return map[string]string{
		"mean-ms":   strconv.FormatFloat(r.MeanMS, 'f', 2, 64),
		"spread-ms": strconv.FormatFloat(r.SpreadMS, 'f', 2, 64),
		"wanted":    strconv.Itoa(r.Wanted),
		"hit":       strconv.Itoa(r.Hit),
		"missed":    strconv.Itoa(r.Missed),
		"extra":     strconv.Itoa(r.Extra),
		"gaps":      strconv.Itoa(gaps),
		"jumps":     strconv.Itoa(jumps),
	}
}

// trillRate returns the usual speed of ornaments of many notes, and of how
// many of them.
func trillRate(r *tap.Result) (rate float64, n int) {
	const many = 6
	for i := range r.Ornaments {
		if o := &r.Ornaments[i]; o.Rate.Known && (o.Free || o.Wanted >= many) {
			rate += o.Rate.V
			n++
		}
	}
	return rate / float64(max(1, n)), n
}

// leastTogether is how many notes both hands must share to be compared.
const leastTogether = 4

func after(c *words.Catalogue, ms float64) string {
	switch n := math.Round(ms); {
	case n > 0:
		return c.Say("{n} ms after the left", "{n}", c.Number(n, 0))
	case n < 0:
		return c.Say("{n} ms before the left", "{n}", c.Number(-n, 0))
	}
	return c.Say("with the left")
}

func signed(c *words.Catalogue, ms float64) string {
	switch n := math.Round(ms); {
	case n > 0:
		return c.Say("{n} ms late", "{n}", c.Number(n, 0))
	case n < 0:
		return c.Say("{n} ms early", "{n}", c.Number(-n, 0))
	}
	return c.Say("on the beat")
}

// Unjudged returns the words for a round whose times are not known well
// enough: what was counted, no judgement.
func Unjudged(w ResultWords, c *words.Catalogue) ResultWords {
	w.Summary = c.Say("The notes were counted, but not how early or late they came.")
	w.Next = c.Say("To measure timing, open the page over https or from this computer.")
	w.Figures = w.counted
	w.Answers = nil
	w.Data["mean-ms"], w.Data["spread-ms"] = "", ""
	return w
}
