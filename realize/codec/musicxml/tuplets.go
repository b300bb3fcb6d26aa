package musicxml

import (
	"sort"

	"agremens/realize/music"
)

// exactTuplets gives the notes of tuplets the lengths their values say where
// the file had to round them to whole divisions: 53/480 of a quarter is meant
// as a ninth. A run is moved only if it then ends where the next chord of its
// voice begins, or earlier.
func (p *part) exactTuplets(from, to int) {
	voices := map[string][]int{}
	for i := from; i < to; i++ {
		if c := &p.chords[i]; !c.drop && c.Grace == nil {
			voices[c.Voice] = append(voices[c.Voice], i)
		}
	}
	for _, v := range voices {
		sort.SliceStable(v, func(a, b int) bool { return p.chords[v[a]].Onset.Less(p.chords[v[b]].Onset) })
		for i := 0; i < len(v); {
			n := p.roundedRun(v[i:])
			if n > 0 {
				limit := p.measures[p.chords[v[i]].Measure].Length
				if i+n < len(v) {
					limit = p.chords[v[i+n]].Onset
				}
				p.stretch(v[i:i+n], limit)
			}
			i += max(1, n)
		}
	}
}

// roundedRun counts the chords at the start of voice that follow each other
// in one tuplet, give or take the rounding, with at least one of
// them rounded.
func (p *part) roundedRun(voice []int) int {
	n, rounded := 0, false
	for n < len(voice) {
		c := &p.chords[voice[n]]
		if c.Value.Actual == 0 {
			break
		}
		if n > 0 {
			b := &p.chords[voice[n-1]]
			if b.Value.Actual != c.Value.Actual || !within(c.Onset.Sub(b.End()), rounding) {
				break
			}
		}
		off := c.Dur.Sub(c.Value.Quarters())
		if !within(off, rounding) || !off.IsZero() && c.exact(c.Value.Quarters()) {
			break // what the file could have said, it would have
		}
		rounded = rounded || !off.IsZero()
		n++
	}
	if !rounded {
		return 0
	}
	return n
}

// exact reports whether a length is a whole number of the chord's divisions.
func (c *chord) exact(length music.Frac) bool {
	return c.division.Sign() > 0 && length.Div(c.division).Den() == 1
}

// rounding is what a division may cost: a fiftieth of a quarter.
var rounding = music.F(1, 50)

func within(x, most music.Frac) bool { return x.Max(x.Neg()).Less(most) }

// stretch lays a run out anew from its first onset.
func (p *part) stretch(run []int, limit music.Frac) {
	now := p.chords[run[0]].Onset
	for _, i := range run {
		q := p.chords[i].Value.Quarters()
		now = now.Add(q)
		if !p.d.common.Take(q) || !p.d.common.Take(now) {
			return
		}
	}
	if limit.Less(now) {
		return
	}
	now = p.chords[run[0]].Onset
	for _, i := range run {
		c := &p.chords[i]
		// Small notes stand before the chord in the file and move with it.
		for k := i - 1; k >= 0 && p.chords[k].Grace != nil && p.chords[k].Voice == c.Voice && p.chords[k].Measure == c.Measure; k-- {
			p.chords[k].Onset = now
		}
		c.Onset, c.Dur = now, c.Value.Quarters()
		now = now.Add(c.Dur)
	}
}
