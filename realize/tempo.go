package realize

import (
	"cmp"
	"math"
	"sort"
	"strings"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/sorting"
	"agremens/realize/words"
)

// pace sorts tempo words by how fast pianists take them.
type pace int8

const (
	noPace pace = iota
	verySlow
	slowish
	middling
	fast
	veryFast
)

// tempoWords are the words scores use, the longer ones before what they
// contain. Their order of speed is common practice, no source.
var tempoWords = []struct {
	word string
	pace pace
}{
	{"allegro moderato", middling}, {"allegro assai", veryFast}, {"molto allegro", veryFast}, {"allegro molto moderato", middling},
	{"prestissimo", veryFast}, {"presto", veryFast}, {"vivac", veryFast},
	{"allegretto", middling}, {"allegro", fast}, {"moderato", middling},
	{"andantino", slowish}, {"andante", slowish}, {"larghetto", slowish}, {"adagio", verySlow},
	{"largo", verySlow}, {"lento", verySlow}, {"grave", verySlow}, {"sarabande", verySlow},
	{"menuet", middling}, {"minuet", middling}, {"allemande", middling}, {"gavotte", middling},
	{"gigue", fast}, {"courante", fast}, {"bourr", fast}, {"vif", veryFast}, {"tendre", slowish},
}

// paceOf is the pace that a text asks for.
func paceOf(text string) pace {
	low := strings.ToLower(text)
	for _, w := range tempoWords {
		if strings.Contains(low, w.word) {
			return w.pace
		}
	}
	return noPace
}

// speedOf is how many quarters a minute pianists play, by pace, in music whose
// busiest measures have one onset a quarter. Fitted to 89 movements of (n)ASAP
// and Batik-plays-Mozart with what their scores print left out; with each work
// left out of the fit, two of three come within a quarter of what is played.
var speedOf = [...]float64{noPace: 200, verySlow: 140, slowish: 133, middling: 242, fast: 312, veryFast: 338}

// slowing is how the speed falls as the onsets of a quarter increase.
const slowing = .63

// enoughMeasures is how many measures show how busy a piece gets. In fewer, at
// least usualOnsets in a quarter are assumed.
const enoughMeasures, usualOnsets = 8, 3.

// goalTempo takes the score's own tempo, else the user's, else assumes one
// from words, metre and the number of notes, and asks.
func goalTempo(p *score.Passage, t Taste, out *Reading) perf.TempoMap {
	var changes []perf.TempoChange
	for _, mark := range p.Tempos {
		if q := markSpeed(mark); q > 0 {
			changes = append(changes, perf.TempoChange{Onset: mark.Onset, QuartersPerMinute: q})
		}
	}
	sort.SliceStable(changes, func(i, j int) bool { return changes[i].Onset.Less(changes[j].Onset) })
	if t.Tempo > 0 {
		if len(changes) == 0 {
			return perf.Steady(t.Tempo)
		}
		scaled := perf.TempoMap{Changes: changes}.Scaled(t.Tempo / changes[0].QuartersPerMinute)
		for i := range scaled.Changes {
			q := &scaled.Changes[i].QuartersPerMinute
			*q = min(FastestTempo, max(SlowestTempo, *q))
		}
		return scaled
	}
	if len(changes) > 0 {
		return perf.TempoMap{Changes: changes}
	}
	quarters, why := assumedTempo(p, t.Words)
	out.TempoAssumed = true
	out.Questions = append(out.Questions, Question{
		About:   AboutTempo,
		Options: tempoOptions(quarters, t.Words),
		Text:    t.Words.Say("The score gives no tempo. How fast should the piece be in the end? The number of notes in a trill depends on it."),
		Assumed: words.Fill(why, "{n}", t.Words.Number(quarters, 0)),
	})
	return perf.Steady(quarters)
}

func markSpeed(m score.Tempo) float64 {
	if m.PerMinute > 0 && m.Beat.Type != score.Unspecified {
		return m.PerMinute * m.Beat.Quarters().Float()
	}
	return m.QuartersPerMinute
}

// assumedTempo returns a speed for a score that gives none, and why in a
// sentence that has {n} for it.
func assumedTempo(p *score.Passage, c *words.Catalogue) (quarters float64, why string) {
	asked, text := asksFor(p)
	why = c.Say("{n} quarter notes per minute, from the number of notes in its busiest bars")
	if asked != noPace {
		why = c.Say("{n} quarter notes per minute, from \"{words}\" and the number of notes in its busiest bars", "{words}", strings.TrimSpace(text))
	}
	quarters = speedOf[asked] * math.Pow(busiest(p), -slowing)
	return math.Round(min(max(quarters, 30), 220)), why
}

// asksFor is the pace of the first text that asks for one, and that text.
func asksFor(p *score.Passage) (pace, string) {
	var texts []string
	for _, mark := range p.Tempos {
		texts = append(texts, mark.Text)
	}
	for _, mark := range p.Marks {
		if mark.Kind == score.Words {
			texts = append(texts, mark.Text)
		}
	}
	for _, text := range append(texts, p.Title) {
		if asked := paceOf(text); asked != noPace {
			return asked, text
		}
	}
	return noPace, ""
}

// busiest is how many onsets a quarter has in the measures that are busier
// than nine of ten, both hands together.
func busiest(p *score.Passage) float64 {
	counts := make([]float64, 0, len(p.Measures))
	last, measure := music.Frac{}, -1
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Grace != nil || c.IsRest() || c.Measure == measure && c.Onset == last || p.Measures[c.Measure].Length.IsZero() {
			continue
		}
		if c.Measure != measure {
			counts = append(counts, 0)
		}
		last, measure = c.Onset, c.Measure
		counts[len(counts)-1] += 1 / p.Measures[c.Measure].Length.Float()
	}
	sorting.Stable(counts, cmp.Compare[float64])
	few := len(counts) < enoughMeasures
	switch {
	case len(counts) == 0:
		return usualOnsets
	case few:
		return max(counts[len(counts)-1], usualOnsets)
	}
	return max(counts[(len(counts)-1)*9/10], .5)
}
