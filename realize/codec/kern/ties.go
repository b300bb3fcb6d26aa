package kern

import (
	"agremens/realize/codec/told"
	"agremens/realize/score"
)

// mendTies settles ties that the file leaves open. A tie whose end is not
// marked leads to the same pitch in the next chord of the voice; one that
// leads nowhere, or comes from nowhere but into an ending, is none.
func (a *assembly) mendTies() {
	p := a.out
	next := make([]int, len(p.Chords)) // the voice's next chord, 0 for none
	last := map[string]int{}
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Grace != nil {
			continue
		}
		if b, ok := last[c.Voice]; ok && p.Chords[b].End() == c.Onset {
			next[b] = i
		}
		last[c.Voice] = i
	}
	reached := map[score.Ref]bool{}
	for i := range p.Chords {
		for j := range p.Chords[i].Notes {
			n := &p.Chords[i].Notes[j]
			if !n.TieStart {
				continue
			}
			if to, ok := p.TieTarget(score.Ref{Chord: i, Note: j}); ok {
				reached[to] = true
				continue
			}
			if k := next[i]; k > 0 && p.Chords[i].Grace == nil {
				if to := pitchIn(&p.Chords[k], n); to >= 0 {
					p.Chords[k].Notes[to].TieStop = true
					reached[score.Ref{Chord: k, Note: to}] = true
					continue
				}
			}
			n.TieStart = false
			a.left.Add("tie")
			if w := a.how[n.ID]; w != nil && w.skips {
				a.warnTie(i, "a tie that passes over other notes was left out: its note is struck again")
			} else {
				a.warnTie(i, "a tie that leads nowhere was left out")
			}
		}
	}
	for i := range p.Chords {
		c := &p.Chords[i]
		for j := range c.Notes {
			if n := &c.Notes[j]; n.TieStop && !reached[score.Ref{Chord: i, Note: j}] && len(p.Measures[c.Measure].Endings) == 0 {
				n.TieStop = false
				if w := a.how[n.ID]; w != nil && w.skips {
					continue // said where it begins
				}
				a.warnTie(i, "a tie without a beginning was left out")
			}
		}
	}
}

func (a *assembly) warnTie(chord int, what string) {
	at := told.Place{Measure: a.out.Measures[a.out.Chords[chord].Measure].Number}
	at.Line, at.Spine = a.drafts[chord].line, a.drafts[chord].spine
	a.warnings.Add(at, what)
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
