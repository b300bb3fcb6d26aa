package realize

import (
	"sort"
	"strings"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/words"
)

// tempoWords are usual speeds of the felt beat. Common practice, no source:
// middle values of what teachers give for Baroque and Classical movements.
var tempoWords = []struct {
	word  string
	beats float64
}{
	{"prestissimo", 176}, {"presto", 160}, {"vivacissim", 160}, {"vivace", 138},
	{"allegro assai", 138}, {"allegretto", 104}, {"allegro", 126}, {"moderato", 96},
	{"andantino", 84}, {"andante", 72}, {"larghetto", 60}, {"adagio", 54},
	{"largo", 50}, {"lento", 52}, {"grave", 44}, {"menuet", 120}, {"minuet", 120},
	{"menuetto", 120}, {"gigue", 100}, {"sarabande", 66}, {"allemande", 76},
	{"courante", 100}, {"gavotte", 84}, {"bourr", 92}, {"vif", 132}, {"tendre", 66}, {"grav", 54},
}

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
		return perf.TempoMap{Changes: changes}.Scaled(t.Tempo / changes[0].QuartersPerMinute)
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
	metre := music.Metre{Beats: 4, Unit: 4}
	if len(p.Measures) > 0 && p.Measures[0].Metre.Unit > 0 {
		metre = p.Measures[0].Metre
	}
	beat := metre.Beat().Float()
	if metre.Unit == 2 {
		beat = 2
	}
	var texts []string
	for _, mark := range p.Tempos {
		texts = append(texts, mark.Text)
	}
	for _, mark := range p.Marks {
		if mark.Kind == "words" {
			texts = append(texts, mark.Text)
		}
	}
	texts = append(texts, p.Title)
	for _, text := range texts {
		low := strings.ToLower(text)
		for _, w := range tempoWords {
			if strings.Contains(low, w.word) {
				return w.beats * beat, c.Say("{n} quarter notes per minute, usual for \"{words}\" in {metre}", "{words}", strings.TrimSpace(text), "{metre}", metre.String())
			}
		}
	}
	// Without words the notes decide: the more of them in a beat, the slower.
	per := notesPerBeat(p, metre.Beat())
	switch {
	case per > 3.2:
		return 60 * beat, c.Say("{n} quarter notes per minute, because there are many notes to the beat")
	case per > 1.8:
		return 72 * beat, c.Say("{n} quarter notes per minute, a moderate tempo for this many notes in a beat")
	}
	return 92 * beat, c.Say("{n} quarter notes per minute, because there are few notes to the beat")
}

// notesPerBeat counts the onsets of the busiest staff.
func notesPerBeat(p *score.Passage, beat music.Frac) float64 {
	count := map[int]int{}
	last := map[int]music.Frac{}
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Grace != nil || c.IsRest() {
			continue
		}
		if at, seen := last[c.Staff]; seen && at == c.Onset {
			continue
		}
		last[c.Staff] = c.Onset
		count[c.Staff]++
	}
	most := 0
	for _, n := range count {
		most = max(most, n)
	}
	length := p.End().Sub(start(p)).Div(beat).Float()
	if length <= 0 {
		return 1
	}
	return float64(most) / length
}
