package desk

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"agremens/game/round"
	"agremens/realize/tap"
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
}

// First returns what is told first: one sentence and one step.
func (w ResultWords) First() []string { return said(w.Summary, w.Next) }

// Rest returns what stands behind it: the four answers, the figures, the notes.
func (w ResultWords) Rest() []string {
	return said(append(append(append([]string{}, w.Answers...), w.Figures), w.Notes...)...)
}

func said(lines ...string) []string {
	return slices.DeleteFunc(lines, func(line string) bool { return line == "" })
}

// WordsOf puts a result into words. beat is the felt beat, ms; gaps counts the
// holes in the sound, jumps the times the device moved without one.
func WordsOf(r *tap.Result, s round.Settings, beat float64, gaps, jumps int) ResultWords {
	w := ResultWords{Summary: r.Summary, Next: r.Next, Answers: tap.English().AnswerLines(r.Answers(beat))}
	w.Figures = fmt.Sprintf("%d of %d notes tapped", r.Hit, r.Wanted)
	if r.Missed > 0 {
		w.Figures += fmt.Sprintf(", %d missed", r.Missed)
	}
	if r.Extra > 0 {
		w.Figures += fmt.Sprintf(", %d extra", r.Extra)
	}
	if r.Hit > 0 {
		w.Figures += fmt.Sprintf("; on average %s, spread %.0f ms.", signed(r.MeanMS), r.SpreadMS)
	} else {
		w.Figures += "."
	}
	// Too few taps are said by the finding itself.
	if r.Doubt != "" && (len(r.Findings) == 0 || r.Findings[0].Code != tap.CodeTooFew) {
		w.Notes = append(w.Notes, "Not certain: "+r.Doubt)
	}
	if n := r.Together.N; n >= leastTogether {
		w.Notes = append(w.Notes, fmt.Sprintf("The hands on plain notes: the right one %s (spread %.0f ms).", after(r.Together.MeanMS), r.Together.SpreadMS))
	}
	if rate, n := trillRate(r); n > 0 {
		w.Notes = append(w.Notes, fmt.Sprintf("The long ornaments ran at %.1f notes a second.", rate))
	}
	if s.Following() {
		w.Notes = append(w.Notes, "The hand you tapped sounded too: this round shows how you follow. Next time tap it alone.")
	}
	if gaps > 0 {
		w.Notes = append(w.Notes, "The sound stopped for a moment; notes near that place were not judged.")
	}
	if jumps > 0 {
		w.Notes = append(w.Notes, "The sound device stumbled; notes near that place were not judged. Tap it again to be sure.")
	}
	w.Data = map[string]string{
		"mean-ms":   fmt.Sprintf("%.2f", r.MeanMS),
		"spread-ms": fmt.Sprintf("%.2f", r.SpreadMS),
		"wanted":    fmt.Sprint(r.Wanted),
		"hit":       fmt.Sprint(r.Hit),
		"missed":    fmt.Sprint(r.Missed),
		"extra":     fmt.Sprint(r.Extra),
		"gaps":      fmt.Sprint(gaps),
		"jumps":     fmt.Sprint(jumps),
	}
	return w
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

func after(ms float64) string {
	switch n := math.Round(ms); {
	case n > 0:
		return fmt.Sprintf("%.0f ms after the left", n)
	case n < 0:
		return fmt.Sprintf("%.0f ms before the left", -n)
	}
	return "with the left"
}

func signed(ms float64) string {
	switch n := math.Round(ms); {
	case n > 0:
		return fmt.Sprintf("%.0f ms late", n)
	case n < 0:
		return fmt.Sprintf("%.0f ms early", -n)
	}
	return "on the beat"
}

// Unjudged returns the words for a round whose times are not known well
// enough: what was counted, no judgement.
func Unjudged(w ResultWords) ResultWords {
	w.Summary = "The notes were counted, but not how early or late they came."
	w.Next = "Opened over https, or from this machine, the page can tell the time of its sound and judges."
	w.Figures, _, _ = strings.Cut(w.Figures, "; on average")
	w.Answers = nil
	w.Data["mean-ms"], w.Data["spread-ms"] = "", ""
	return w
}
