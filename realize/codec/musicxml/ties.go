package musicxml

import (
	"agremens/realize/codec/told"
	"agremens/realize/score"
)

// mendTies settles ties that the file leaves open. A tie to the next chord's
// same pitch whose end is not marked is a tie; one to another pitch is a slur
// that the file calls a tie; and a tie that comes from nowhere is none, unless
// it leads into a second ending.
func (d *decoder) mendTies(out *score.Passage) {
	next := make([]int, len(out.Chords)) // the voice's next chord, 0 for none: no chord is before the first
	last := map[string]int{}
	for i := range out.Chords {
		c := &out.Chords[i]
		if c.Grace != nil {
			continue
		}
		if b, ok := last[c.Voice]; ok && out.Chords[b].End() == c.Onset {
			next[b] = i
		}
		last[c.Voice] = i
	}
	reached := map[score.Ref]bool{}
	d.breathe()
	for i := range out.Chords {
		slurred := false
		for j := range out.Chords[i].Notes {
			n := &out.Chords[i].Notes[j]
			if !n.TieStart {
				continue
			}
			if to, ok := out.TieTarget(score.Ref{Chord: i, Note: j}); ok {
				reached[to] = true
				continue
			}
			k := next[i]
			if k == 0 || out.Chords[k].IsRest() || out.Chords[i].Grace != nil {
				continue // open to the end of the sound, or into a repeat
			}
			if to := pitchIn(&out.Chords[k], n); to >= 0 {
				out.Chords[k].Notes[to].TieStop = true
				reached[score.Ref{Chord: k, Note: to}] = true
				continue
			}
			n.TieStart = false
			if !slurred {
				out.Slurs = append(out.Slurs, score.Slur{From: i, To: k})
				d.warnings.Add(told.Place{Measure: out.Measures[out.Chords[i].Measure].Number}, "a tie between two different notes was read as a slur")
				slurred = true
			}
		}
	}
	for i := range out.Chords {
		c := &out.Chords[i]
		for j := range c.Notes {
			if n := &c.Notes[j]; n.TieStop && !reached[score.Ref{Chord: i, Note: j}] && len(out.Measures[c.Measure].Endings) == 0 {
				n.TieStop = false
				d.warnings.Add(told.Place{Measure: out.Measures[c.Measure].Number}, "a tie without a beginning was left out")
			}
		}
	}
}

// pitchIn returns the index of the note of n's pitch, -1 if there is none.
func pitchIn(c *score.Chord, n *score.Note) int {
	for j := range c.Notes {
		if c.Notes[j].Pitch == n.Pitch {
			return j
		}
	}
	return -1
}
