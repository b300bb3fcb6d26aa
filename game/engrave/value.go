package engrave

import (
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// writeOut turns a choice's notes into chords with legal written values, and
// says which of the choice's notes each stands for. What sounds together
// becomes a chord; held notes are cut where the next one starts.
func writeOut(c *realize.Choice, o *realize.Ornament) (chords []score.Chord, index []int, tuplets []score.Tuplet) {
	line := realize.Choice{}
	var heads [][]score.Note
	var first []int
	for i := 0; i < len(c.Notes); {
		n := c.Notes[i]
		var notes []score.Note
		j := i
		for ; j < len(c.Notes) && c.Notes[j].Onset == n.Onset; j++ {
			notes = append(notes, score.Note{ID: o.Note, Pitch: c.Notes[j].Pitch, TieStop: c.Notes[j].Tied})
			n.Dur = n.Dur.Max(c.Notes[j].Dur)
		}
		sorting.Stable(notes, func(a, b score.Note) int { return a.Pitch.MIDI() - b.Pitch.MIDI() })
		if j < len(c.Notes) {
			n.Dur = n.Dur.Min(c.Notes[j].Onset.Sub(n.Onset))
		}
		if n.Dur.Sign() > 0 {
			line.Notes, heads, first = append(line.Notes, n), append(heads, notes), append(first, i)
		}
		i = j
	}
	last, group := -1, 0
	var at music.Frac
	for _, w := range realize.Notate(&line, o.Notated) {
		if w.Note != last {
			last, at = w.Note, o.Onset.Add(line.Notes[w.Note].Onset)
		} else if len(chords) > 0 {
			at = chords[len(chords)-1].End()
		}
		held := w.Note+1 < len(line.Notes) && line.Notes[w.Note+1].Tied
		again := len(index) > 0 && index[len(index)-1] == first[w.Note]
		ch := score.Chord{Onset: at, Dur: w.Value.Quarters(), Value: w.Value}
		if n := line.Notes[w.Note].Dur; n.Less(ch.Dur) {
			// Shorter than any printed value: a run under one number, with as
			// many beams as are still told apart.
			ch.Dur, ch.Value.Type = n, score.N64th
		}
		for _, n := range heads[w.Note] {
			n.TieStop = n.TieStop || again
			n.TieStart = w.Tie || held
			ch.Notes = append(ch.Notes, n)
		}
		if w.Tuplet > 0 && group > 0 && (w.Tuplet == group || joins(chords, tuplets, w)) {
			tuplets[len(tuplets)-1].To = len(chords)
		} else if w.Tuplet > 0 {
			tuplets = append(tuplets, score.Tuplet{From: len(chords), To: len(chords), Actual: w.Value.Actual, Normal: w.Value.Normal, ShowNumber: true})
		}
		group = w.Tuplet
		chords, index = append(chords, ch), append(index, first[w.Note])
	}
	return chords, index, tuplets
}

// joins reports whether a value goes on with a tuplet of the same ratio that
// is not full yet.
func joins(chords []score.Chord, tuplets []score.Tuplet, w realize.Written) bool {
	t := tuplets[len(tuplets)-1]
	if t.Actual != w.Value.Actual || t.Normal != w.Value.Normal || t.To != len(chords)-1 {
		return false
	}
	sum := music.Frac{}
	for _, c := range chords[t.From:] {
		sum = sum.Add(c.Dur)
	}
	for den := sum.Den(); den > 1; den /= 2 {
		if den%2 != 0 {
			return true
		}
	}
	return false
}
