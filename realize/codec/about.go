package codec

import (
	"strings"

	"agremens/realize"
	"agremens/realize/score"
	"agremens/realize/words"
)

// About says in one line what was opened and what was not: parts, bars and
// signs, from where tempo and composer come, what was left unread. r is the reading of the score.
func About(c *words.Catalogue, s *Score, r *realize.Reading) string {
	said := []string{found(c, s, r), tempoFrom(c, r), composerFrom(c, r.Passage)}
	if n := len(s.Warnings); n > 0 {
		said = append(said, c.Count(n, "{n} thing was left out or guessed.", "{n} things were left out or guessed."))
	}
	return strings.Join(said, " ")
}

// found counts what was read.
func found(c *words.Catalogue, s *Score, r *realize.Reading) string {
	parts := ""
	if len(s.Parts) > 1 {
		var names []string
		for _, p := range s.Parts {
			if p.Chosen {
				names = append(names, p.label())
			}
		}
		parts = c.Say("Of {n} parts {names} was read:", "{n}", c.Number(float64(len(s.Parts)), 0), "{names}", strings.Join(names, " + ")) + " "
	}
	things := []string{c.Count(len(r.Passage.Measures), "{n} bar", "{n} bars")}
	trills, shorts, mordents, turns, others, small := 0, 0, 0, 0, 0, 0
	for i := range r.Passage.Chords {
		ch := &r.Passage.Chords[i]
		if ch.Grace != nil {
			small += len(ch.Notes)
		}
		for _, sign := range ch.Signs {
			switch sign.Kind {
			case score.TrillMark:
				trills++
			case score.InvertedMordent:
				shorts++
			case score.Mordent:
				mordents++
			case score.Turn, score.DelayedTurn, score.InvertedTurn, score.DelayedInvertedTurn, score.VerticalTurn, score.InvertedVerticalTurn:
				turns++
			case score.WavyLine, score.Tremolo:
			default:
				others++
			}
		}
	}
	for _, kind := range []struct {
		n    int
		said string
	}{
		{trills, c.Count(trills, "{n} trill", "{n} trills")},
		{shorts, c.Count(shorts, "{n} short trill", "{n} short trills")},
		{mordents, c.Count(mordents, "{n} mordent", "{n} mordents")},
		{turns, c.Count(turns, "{n} turn", "{n} turns")},
		{others, c.Count(others, "{n} other sign", "{n} other signs")},
		{small, c.Count(small, "{n} grace note", "{n} grace notes")},
	} {
		if kind.n > 0 {
			things = append(things, kind.said)
		}
	}
	if len(things) == 1 {
		things = append(things, c.Say("no ornaments"))
	}
	return parts + strings.Join(things, ", ") + "."
}

// tempoFrom says where the tempo comes from.
func tempoFrom(c *words.Catalogue, r *realize.Reading) string {
	if r.TempoAssumed {
		return c.Say("The file gives no tempo in numbers: it is assumed.")
	}
	for _, t := range r.Passage.Tempos {
		switch {
		case t.PerMinute > 0:
			return c.Say("The tempo is printed in the score.")
		case t.QuartersPerMinute > 0:
			return c.Say("The tempo is the file's, and not printed in the score.")
		}
	}
	return c.Say("The tempo was set by hand.")
}

// composerFrom says where the composer comes from.
func composerFrom(c *words.Catalogue, p *score.Passage) string {
	if p.Composer == "" {
		return c.Say("The file names no composer.")
	}
	return c.Say("The file names the composer: {name}.", "{name}", strings.TrimSuffix(p.Composer, "."))
}
