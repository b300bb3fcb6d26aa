package score

import (
	"slices"
	"sort"

	"agremens/realize/music"
	"agremens/realize/sorting"
)

// Ref points at one note of a passage.
type Ref struct{ Chord, Note int }

// At returns the note a Ref points at.
func (p *Passage) At(r Ref) *Note { return &p.Chords[r.Chord].Notes[r.Note] }

// Find returns where a note stands.
func (p *Passage) Find(id ID) (Ref, bool) {
	for i := range p.Chords {
		for j := range p.Chords[i].Notes {
			if p.Chords[i].Notes[j].ID == id {
				return Ref{i, j}, true
			}
		}
	}
	return Ref{}, false
}

// End returns where the last measure ends.
func (p *Passage) End() music.Frac {
	if len(p.Measures) == 0 {
		return music.Frac{}
	}
	return p.Measures[len(p.Measures)-1].End()
}

// MeasureAt returns the index of the measure that holds onset: the first one
// before the passage, the last one after it.
func (p *Passage) MeasureAt(onset music.Frac) int {
	i := sort.Search(len(p.Measures), func(i int) bool { return onset.Less(p.Measures[i].Onset) })
	return max(0, i-1)
}

// KeyAt returns the signature in force at onset.
func (p *Passage) KeyAt(onset music.Frac) music.Key {
	if len(p.Measures) == 0 {
		return music.Key{}
	}
	m := p.Measures[p.MeasureAt(onset)]
	key := m.Key
	for _, c := range m.KeyChanges {
		if c.Onset.Cmp(onset) <= 0 {
			key = c.Key
		}
	}
	return key
}

// FirstAt returns the index of the first chord at or after onset.
func (p *Passage) FirstAt(onset music.Frac) int {
	return sort.Search(len(p.Chords), func(i int) bool { return p.Chords[i].Onset.Cmp(onset) >= 0 })
}

// Voices returns for each voice the indexes of its chords in time order,
// grace chords included.
func (p *Passage) Voices() map[string][]int {
	voices := map[string][]int{}
	for i := range p.Chords {
		voices[p.Chords[i].Voice] = append(voices[p.Chords[i].Voice], i)
	}
	return voices
}

// Sort brings Chords into the order the type promises and rewrites the
// indexes that slurs and tuplets hold. Grace chords keep their file order
// before the chord they lean on; closing ones (Grace.After) stand before
// whatever starts at the same onset.
func (p *Passage) Sort() {
	order := make([]int, len(p.Chords))
	for i := range order {
		order[i] = i
	}
	sorting.Stable(order, func(a, b int) int {
		x, y := &p.Chords[a], &p.Chords[b]
		if c := x.Onset.Cmp(y.Onset); c != 0 {
			return c
		}
		if c := graceRank(x) - graceRank(y); c != 0 {
			return c
		}
		if c := x.Staff - y.Staff; c != 0 {
			return c
		}
		if x.Voice != y.Voice {
			if len(x.Voice) != len(y.Voice) {
				return len(x.Voice) - len(y.Voice)
			}
			if x.Voice < y.Voice {
				return -1
			}
			return 1
		}
		return 0
	})
	place := make([]int, len(order))
	for to, from := range order {
		place[from] = to
	}
	// In place, along the cycles of the order: a long passage stands in memory
	// once.
	for start := range order {
		first := p.Chords[start]
		to := start
		for order[to] != start && order[to] >= 0 {
			p.Chords[to] = p.Chords[order[to]]
			to, order[to] = order[to], -1
		}
		if order[to] == start {
			p.Chords[to] = first
			order[to] = -1
		}
	}
	for i := range p.Slurs {
		p.Slurs[i].From, p.Slurs[i].To = place[p.Slurs[i].From], place[p.Slurs[i].To]
	}
	for i := range p.Tuplets {
		p.Tuplets[i].From, p.Tuplets[i].To = place[p.Tuplets[i].From], place[p.Tuplets[i].To]
	}
}

func graceRank(c *Chord) int {
	switch {
	case c.Grace == nil:
		return 2
	case c.Grace.After:
		return 0
	}
	return 1
}

// TiedOn returns the notes that continue note r by ties, in order, r itself
// first. They share its key and are not struck again.
func (p *Passage) TiedOn(r Ref) []Ref {
	chain := []Ref{r}
	for p.At(r).TieStart {
		from := &p.Chords[r.Chord]
		next, ok := p.tieTarget(from, p.At(r).Pitch, r.Chord)
		if !ok {
			break
		}
		chain = append(chain, next)
		r = next
	}
	return chain
}

// TieTarget returns the note that the tie starting on r leads to. It looks
// for one that says a tie ends on it, in r's voice first.
func (p *Passage) TieTarget(r Ref) (Ref, bool) {
	return p.tieTarget(&p.Chords[r.Chord], p.At(r).Pitch, r.Chord)
}

func (p *Passage) tieTarget(from *Chord, pitch music.Pitch, after int) (Ref, bool) {
	best, found := Ref{}, false
	end := from.End()
	for i := after + 1; i < len(p.Chords); i++ {
		c := &p.Chords[i]
		if end.Less(c.Onset) {
			break
		}
		// A grace note ties into the chord it leans on, at the same onset.
		if c.Onset != end || c.Grace != nil && from.Grace == nil {
			continue
		}
		for j := range c.Notes {
			if c.Notes[j].Pitch == pitch && c.Notes[j].TieStop {
				if c.Voice == from.Voice {
					return Ref{i, j}, true
				}
				if !found {
					best, found = Ref{i, j}, true
				}
			}
		}
	}
	return best, found
}

// Clone returns a deep copy.
func (p *Passage) Clone() *Passage {
	q := *p
	q.Measures = slices.Clone(p.Measures)
	for i := range q.Measures {
		m := &q.Measures[i]
		m.Endings, m.Jumps, m.KeyChanges = slices.Clone(m.Endings), slices.Clone(m.Jumps), slices.Clone(m.KeyChanges)
	}
	q.Chords = slices.Clone(p.Chords)
	for i := range q.Chords {
		c := &q.Chords[i]
		c.Notes, c.Beams, c.Signs, c.Artic = slices.Clone(c.Notes), slices.Clone(c.Beams), slices.Clone(c.Signs), slices.Clone(c.Artic)
		for j := range c.Signs {
			c.Signs[j].Accidentals = slices.Clone(c.Signs[j].Accidentals)
		}
		if c.Grace != nil {
			g := *c.Grace
			c.Grace = &g
		}
		if c.RestPos != nil {
			r := *c.RestPos
			c.RestPos = &r
		}
	}
	q.Clefs, q.Slurs, q.Tuplets = slices.Clone(p.Clefs), slices.Clone(p.Slurs), slices.Clone(p.Tuplets)
	q.Tempos, q.Marks = slices.Clone(p.Tempos), slices.Clone(p.Marks)
	return &q
}
