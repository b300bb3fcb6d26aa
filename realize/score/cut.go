package score

import (
	"fmt"

	"agremens/realize/music"
	"agremens/realize/sorting"
)

// Cut returns the measures from..to (half-open) as a passage of their own that
// starts at 0: what is in force where it starts (clefs, tempo) is kept, what
// leads in from before or out to after (ties, slurs, tuplets, lines) ends at
// the edge. Ids stay. It panics where the measures do not exist.
func (p *Passage) Cut(from, to int) *Passage {
	if from < 0 || from >= to || to > len(p.Measures) {
		panic(fmt.Sprintf("score: there are no measures %d to %d of %d", from, to, len(p.Measures)))
	}
	q := p.Clone()
	start, end := p.Measures[from].Onset, p.Measures[to-1].End()
	q.remove(func(c *Chord) bool { return c.Measure < from || c.Measure >= to })
	q.Measures = q.Measures[from:to]
	for i := range q.Measures {
		m := &q.Measures[i]
		m.Onset = m.Onset.Sub(start)
		for j := range m.KeyChanges {
			m.KeyChanges[j].Onset = m.KeyChanges[j].Onset.Sub(start)
		}
	}
	for i := range q.Chords {
		c := &q.Chords[i]
		c.Measure -= from
		c.Onset = c.Onset.Sub(start)
	}
	q.Clefs = cutClefs(q.Clefs, start, end)
	q.Tempos = cutTempos(q.Tempos, start, end)
	q.Marks = cutMarks(q.Marks, start, end)
	q.endTies(from > 0, to < len(p.Measures))
	return q
}

func cutClefs(clefs []Clef, start, end music.Frac) []Clef {
	var kept []Clef
	inForce := map[int]int{} // staff to its place in kept
	for _, c := range clefs {
		if !c.Onset.Less(end) {
			continue
		}
		if at, seen := inForce[c.Staff]; seen && !start.Less(c.Onset) {
			kept[at] = c
			kept[at].Onset = music.Frac{}
			continue
		}
		if !start.Less(c.Onset) {
			inForce[c.Staff] = len(kept)
			c.Onset = start
		}
		c.Onset = c.Onset.Sub(start)
		kept = append(kept, c)
	}
	sorting.Stable(kept, func(a, b Clef) int { return a.Onset.Cmp(b.Onset) })
	return kept
}

func cutTempos(tempos []Tempo, start, end music.Frac) []Tempo {
	var before, kept []Tempo
	for _, t := range tempos {
		switch {
		case !t.Onset.Less(end):
		case start.Less(t.Onset):
			t.Onset = t.Onset.Sub(start)
			kept = append(kept, t)
		default:
			// Words alone (0 quarters a minute) do not end the tempo in force.
			t.Onset = music.Frac{}
			if t.QuartersPerMinute != 0 {
				before = nil
			}
			before = append(before, t)
		}
	}
	return append(before, kept...)
}

func cutMarks(marks []Mark, start, end music.Frac) []Mark {
	var kept []Mark
	for _, m := range marks {
		if line := m.Onset.Less(m.End); !m.Onset.Less(end) || m.Onset.Less(start) && (!line || !start.Less(m.End)) {
			continue
		}
		m.Onset, m.End = m.Onset.Max(start).Sub(start), m.End.Min(end).Sub(start)
		kept = append(kept, m)
	}
	return kept
}

// endTies takes away the ends of ties that lead over the edges.
func (p *Passage) endTies(before, after bool) {
	for i := range p.Chords {
		c := &p.Chords[i]
		for j := range c.Notes {
			if before && c.Onset.IsZero() {
				c.Notes[j].TieStop = false
			}
			if after && c.End() == p.End() {
				c.Notes[j].TieStart = false
			}
		}
	}
}
