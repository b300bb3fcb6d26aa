package engrave

import (
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
)

// writeOut turns a choice's notes into chords with legal written values, and
// says which of the choice's notes each stands for. Held notes are cut where
// the next one starts.
func writeOut(c *realize.Choice, o *realize.Ornament) (chords []score.Chord, index []int) {
	for i := 0; i < len(c.Notes); {
		at := c.Notes[i].Onset
		j := i
		var notes []score.Note
		dur := c.Notes[i].Dur
		for ; j < len(c.Notes) && c.Notes[j].Onset == at; j++ {
			notes = append(notes, score.Note{ID: o.Note, Pitch: c.Notes[j].Pitch, TieStop: c.Notes[j].Tied})
			dur = dur.Max(c.Notes[j].Dur)
		}
		if j < len(c.Notes) {
			dur = dur.Min(c.Notes[j].Onset.Sub(at))
		}
		if dur.Sign() <= 0 {
			i = j
			continue
		}
		onset := o.Onset.Add(at)
		values := legal(dur)
		for k, v := range values {
			ch := score.Chord{Onset: onset, Dur: v.Quarters(), Value: v}
			for _, n := range notes {
				n.TieStop = n.TieStop || k > 0
				n.TieStart = k < len(values)-1 || j < len(c.Notes) && c.Notes[j].Tied
				ch.Notes = append(ch.Notes, n)
			}
			chords, index = append(chords, ch), append(index, i)
			onset = onset.Add(ch.Dur)
		}
		i = j
	}
	return chords, index
}

// legal splits a duration into values a reader knows, longest first; odd
// fractions become tuplets.
func legal(d music.Frac) []score.Value {
	den := d.Den()
	for den%2 == 0 {
		den /= 2
	}
	actual, normal := int(den), 1
	for normal*2 <= actual {
		normal *= 2
	}
	v := score.Value{}
	if actual > 1 {
		v.Actual, v.Normal = actual, normal
	}
	var out []score.Value
	for d.Sign() > 0 && len(out) < 6 {
		v.Dots = 0
		found := false
		for t := score.Breve; t <= score.N256th && !found; t++ {
			for dots := 2; dots >= 0 && !found; dots-- {
				v.Type, v.Dots = t, dots
				if q := v.Quarters(); q.Cmp(d) <= 0 && (dots < 2 || q == d) {
					out = append(out, v)
					d = d.Sub(q)
					found = true
				}
			}
		}
		if !found {
			break
		}
	}
	return out
}
