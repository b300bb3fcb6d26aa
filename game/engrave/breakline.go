package engrave

import (
	"agremens/realize"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// atBars cuts the notes of a choice at the bar lines they are held over; the
// parts are tied. origin holds each note's place in the choice as it was.
func atBars(c *realize.Choice, p *score.Passage, o *realize.Ornament) (cut *realize.Choice, origin []int) {
	type part struct {
		note   realize.Note
		origin int
	}
	var parts []part
	for i, n := range c.Notes {
		for m := p.MeasureAt(o.Onset.Add(n.Onset)) + 1; m < len(p.Measures); m++ {
			bar := p.Measures[m].Onset.Sub(o.Onset)
			if n.Onset.Add(n.Dur).Cmp(bar) <= 0 {
				break
			}
			if bar.Cmp(n.Onset) <= 0 {
				continue
			}
			rest := n
			n.Dur = bar.Sub(n.Onset)
			rest.Onset, rest.Dur, rest.Tied = bar, rest.Dur.Sub(n.Dur), true
			parts = append(parts, part{n, i})
			n = rest
		}
		parts = append(parts, part{n, i})
	}
	if len(parts) > len(c.Notes) {
		sorting.Stable(parts, func(a, b part) int { return a.note.Onset.Cmp(b.note.Onset) })
	}
	cut = &realize.Choice{}
	for _, q := range parts {
		cut.Notes, origin = append(cut.Notes, q.note), append(origin, q.origin)
	}
	return cut, origin
}

// inside keeps the chords that begin within a span, with early also those
// before it, and what of the tuplets they are in.
func inside(chords []score.Chord, index []int, tuplets []score.Tuplet, within *span, early bool) ([]score.Chord, []int, []score.Tuplet) {
	lo, hi := 0, len(chords)
	for !early && lo < hi && chords[lo].Onset.Less(within.from) {
		lo++
	}
	for hi > lo && within.to.Cmp(chords[hi-1].Onset) <= 0 {
		hi--
	}
	var kept []score.Tuplet
	for _, t := range tuplets {
		t.From, t.To = max(t.From, lo)-lo, min(t.To, hi-1)-lo
		if t.From <= t.To {
			kept = append(kept, t)
		}
	}
	return chords[lo:hi], index[lo:hi], kept
}
