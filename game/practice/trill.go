package practice

import (
	"slices"
	"strconv"

	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/sorting"
)

// Long trills are measured by so many notes to each note of the other hand.
const (
	fewestToANote = 2
	mostToANote   = 4
	// longTrillNotes is the least number of notes that makes a trill long.
	longTrillNotes = 6
)

// longTrill plays a trill as an exact number of notes to each note of the
// other hand. The number is chosen for the goal tempo, so that the pattern
// stays the same on the way there.
//
//words:texts
func (s *Session) longTrill() error {
	o, ok := s.m.trill()
	if !ok {
		return s.missing("There is no long trill in the chosen bars. Choose other bars.")
	}
	plain := s.m.sounding(s.m.Reading, false)
	grid := trillGrid(plain, o, s.m.metre(o.Measure).Beat())
	n, rate := s.m.toANote(plain, grid)
	performed := func() *perf.Performance { return measured(s.m.sounding(s.m.Reading, false), o, grid, n) }
	hand := handOf(o)
	from, to := s.m.around(o)
	set := s.m.tapped(hand, from, to)
	heard := set
	heard.Tap, heard.Play = round.NoHand, round.BothHands
	fill := []string{"{n}", strconv.Itoa(n), "{rate}", s.words().Number(rate, 1)}
	hear, tapped := "Hear {n} notes to each note of the left hand, {rate} per second at the goal", "Tap {n} notes to each note of the left hand, {rate} per second at the goal"
	if hand == round.LeftHand {
		hear, tapped = "Hear {n} notes to each note of the right hand, {rate} per second at the goal", "Tap {n} notes to each note of the right hand, {rate} per second at the goal"
	}
	line := s.say(tapped, fill...)
	s.add(
		Step{Act: Hear, Line: s.say(hear, fill...), Settings: heard, performed: performed},
		Step{Act: Strike, Line: line, Settings: set, performed: performed, counts: true},
		Step{Act: Strike, Line: s.onceMore(line), Settings: set, performed: performed, counts: true},
	)
	return nil
}

// trill returns the ornament in hand where it is a long trill, else the
// longest one in the chosen measures.
func (m *Material) trill() (*realize.Ornament, bool) {
	var best *realize.Ornament
	for _, o := range m.inside() {
		if !isTrill(chosen(o)) {
			continue
		}
		if o.ID == m.Selected {
			return o, true
		}
		if best == nil || best.Notated.Less(o.Notated) {
			best = o
		}
	}
	return best, best != nil
}

// isTrill reports whether a choice shakes with the note above.
func isTrill(c *realize.Choice) bool {
	turns := 0
	for i := 1; i < len(c.Notes); i++ {
		if a, b := c.Notes[i-1].Degree, c.Notes[i].Degree; a+b == 1 && a*b == 0 {
			turns++
		}
	}
	return len(c.Notes) >= longTrillNotes && turns >= longTrillNotes-3
}

// trillGrid returns the onsets that the trill is divided by, its end last:
// those of the other hand under it, or the halves of the beat where that hand
// holds one note.
func trillGrid(p *perf.Performance, o *realize.Ornament, beat music.Frac) []music.Frac {
	from, to := o.Onset, o.Onset.Add(o.Notated)
	for _, n := range p.Notes {
		if n.Ornament == o.ID {
			to = to.Max(n.End())
		}
	}
	grid := []music.Frac{from}
	own := perf.Right
	if o.Staff == 2 {
		own = perf.Left
	}
	for _, n := range p.Notes {
		if n.Hand != own && from.Less(n.Onset) && n.Onset.Less(to) && n.Onset != grid[len(grid)-1] && n.Ornament == "" {
			grid = append(grid, n.Onset)
		}
	}
	if len(grid) < 2 {
		half := beat.Mul(music.F(1, 2))
		for at := from.Add(half); at.Less(to); at = at.Add(half) {
			grid = append(grid, at)
		}
	}
	return append(grid, to)
}

// toANote returns the largest number of notes to one of the grid that the
// player can manage at the goal tempo, at least two, and its notes a second.
func (m *Material) toANote(p *perf.Performance, grid []music.Frac) (n int, rate float64) {
	shortest := grid[1].Sub(grid[0])
	for i := 1; i < len(grid); i++ {
		shortest = shortest.Min(grid[i].Sub(grid[i-1]))
	}
	seconds := shortest.Float() * 60 / p.Tempo.At(grid[0])
	for n = mostToANote; n > fewestToANote && float64(n)/seconds > m.Rate; n-- {
	}
	return n, float64(n) / seconds
}

// measured replaces the trill by n notes to each step of the grid. It begins
// as the chosen way does and ends on the main note: where the numbers do not
// come out, the last note is twice as long. An ending below is kept.
func measured(p *perf.Performance, o *realize.Ornament, grid []music.Frac, n int) *perf.Performance {
	c := chosen(o)
	pitches := map[int]music.Pitch{}
	for _, note := range c.Notes {
		pitches[note.Degree] = note.Pitch
	}
	var onsets []music.Frac
	for i := 1; i < len(grid); i++ {
		step := grid[i].Sub(grid[i-1]).Mul(music.F(1, int64(n)))
		for k := range n {
			onsets = append(onsets, grid[i-1].Add(step.Mul(music.Int(int64(k)))))
		}
	}
	upper := c.Notes[0].Degree == 1
	if even := len(onsets)%2 == 0; even != upper {
		onsets = onsets[:len(onsets)-1]
	}
	degrees := make([]int, len(onsets))
	for i := range degrees {
		degrees[i] = i % 2
		if upper {
			degrees[i] = 1 - i%2
		}
	}
	last := len(c.Notes) - 1
	if c.Notes[last].Degree == 0 && c.Notes[last-1].Degree == -1 && len(degrees) >= 4 {
		degrees[len(degrees)-2] = -1
	}
	out := *p
	out.Notes = slices.DeleteFunc(slices.Clone(p.Notes), func(note perf.Note) bool { return note.Ornament == o.ID })
	hand := perf.Right
	if o.Staff == 2 {
		hand = perf.Left
	}
	for i, at := range onsets {
		end := grid[len(grid)-1]
		if i+1 < len(onsets) {
			end = onsets[i+1]
		}
		out.Notes = append(out.Notes, perf.Note{
			Onset: at, Dur: end.Sub(at), Pitch: pitches[degrees[i]], Strength: 0.6, Hand: hand,
			From: o.Note, Ornament: o.ID, Index: i, Degree: degrees[i], Measured: true,
		})
	}
	sorting.Stable(out.Notes, func(a, b perf.Note) int {
		if c := a.Onset.Cmp(b.Onset); c != 0 {
			return c
		}
		return int(a.Hand) - int(b.Hand)
	})
	return &out
}
