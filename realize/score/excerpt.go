package score

import "agremens/realize/music"

// Excerpt returns the measures [from, to) as a passage of their own that
// begins at 0: what was in force there stands at its beginning, ties and lines
// that lead out of it are cut. Ids stay. It panics where the range is empty or
// outside the passage.
func (p *Passage) Excerpt(from, to int) *Passage {
	if from < 0 || to > len(p.Measures) || from >= to {
		panic("score: no measures")
	}
	if from == 0 && to == len(p.Measures) {
		return p.Clone()
	}
	q := p.Clone()
	start, end := p.Measures[from].Onset, p.Measures[to-1].End()
	q.Measures = q.Measures[from:to]
	for i := range q.Measures {
		m := &q.Measures[i]
		m.Onset = m.Onset.Sub(start)
		for k := range m.KeyChanges {
			m.KeyChanges[k].Onset = m.KeyChanges[k].Onset.Sub(start)
		}
	}
	q.remove(func(c *Chord) bool { return c.Measure < from || c.Measure >= to })
	for i := range q.Chords {
		c := &q.Chords[i]
		c.Measure, c.Onset = c.Measure-from, c.Onset.Sub(start)
	}
	q.cutTies(p, from, to)
	q.Clefs = excerptClefs(q.Clefs, start, end)
	q.Tempos = excerptTempos(q.Tempos, start, end)
	marks := q.Marks[:0]
	for _, m := range q.Marks {
		if m.Onset.Less(start) || end.Cmp(m.Onset) <= 0 {
			continue
		}
		m.Onset, m.End = m.Onset.Sub(start), m.End.Min(end).Sub(start)
		marks = append(marks, m)
	}
	q.Marks = marks
	return q
}

// cutTies takes away ties that lead into the excerpt or out of it.
func (q *Passage) cutTies(p *Passage, from, to int) {
	reached := map[ID]bool{}
	for i := range q.Chords {
		for j := range q.Chords[i].Notes {
			n := &q.Chords[i].Notes[j]
			if !n.TieStart {
				continue
			}
			if next, ok := q.TieTarget(Ref{i, j}); ok {
				reached[q.At(next).ID] = true
			} else if r, known := p.Find(n.ID); known {
				if next, ok := p.TieTarget(r); ok && (p.Chords[next.Chord].Measure < from || p.Chords[next.Chord].Measure >= to) {
					n.TieStart = false
				}
			}
		}
	}
	for i := range q.Chords {
		c := &q.Chords[i]
		for j := range c.Notes {
			// A tie may also lead in from a first ending; inside, it stays.
			if n := &c.Notes[j]; n.TieStop && !reached[n.ID] && c.Onset.IsZero() {
				n.TieStop = false
			}
		}
	}
}

// excerptClefs keeps the clefs of an excerpt, those in force at its start first.
func excerptClefs(clefs []Clef, start, end music.Frac) []Clef {
	at := map[int]Clef{}
	var inside []Clef
	for _, c := range clefs {
		switch {
		case c.Onset.Cmp(start) <= 0:
			c.Onset = music.Frac{}
			at[c.Staff] = c
		case c.Onset.Less(end):
			c.Onset = c.Onset.Sub(start)
			inside = append(inside, c)
		}
	}
	var out []Clef
	for staff := 1; len(at) > 0; staff++ {
		if c, ok := at[staff]; ok {
			out = append(out, c)
			delete(at, staff)
		}
	}
	return append(out, inside...)
}

// excerptTempos keeps the tempos of an excerpt, that in force at its start first.
func excerptTempos(tempos []Tempo, start, end music.Frac) []Tempo {
	var before *Tempo
	var inside []Tempo
	for i := range tempos {
		t := tempos[i]
		switch {
		case t.Onset.Less(start):
			// Words alone ("Andante") leave the speed that was.
			if t.QuartersPerMinute > 0 || t.PerMinute > 0 || before == nil {
				before = &tempos[i]
			}
		case t.Onset.Less(end):
			t.Onset = t.Onset.Sub(start)
			inside = append(inside, t)
		}
	}
	if before == nil || len(inside) > 0 && inside[0].Onset.IsZero() {
		return inside
	}
	first := *before
	first.Onset = music.Frac{}
	return append([]Tempo{first}, inside...)
}
