package musicxml

import (
	"agremens/realize/codec/told"
	"agremens/realize/music"
	"agremens/realize/score"
)

// eachMeasure calls do with the chords of each measure in turn, as indexes.
func (p *part) eachMeasure(do func(from, to int)) {
	for from := 0; from < len(p.chords); {
		to := from
		for to < len(p.chords) && p.chords[to].Measure == p.chords[from].Measure {
			to++
		}
		do(from, to)
		if p.d.chunk += to - from; p.d.chunk > 2048 {
			p.d.chunk = 0
			p.d.breathe()
		}
		from = to
	}
}

// dropWrittenOut takes the transcriber's invisible realizations out of a
// measure (see the package documentation).
func (p *part) dropWrittenOut(from, to int) {
	for i := from; i < to; i++ {
		c := &p.chords[i]
		if len(c.Notes) == 0 {
			continue
		}
		c.Hidden = c.allHidden()
		if !c.Hidden {
			p.hideHeads(from, to, i)
			continue
		}
		switch {
		case c.Grace != nil:
			c.drop = true
		case c.Cue:
			// Cue notes that only carry on a tie do not strike anything.
			c.drop = !p.heldOver(i)
		}
	}
	p.dropRuns(from, to)
	for i := from; i < to; i++ {
		if p.chords[i].drop {
			p.moveSigns(from, to, i)
		}
	}
	p.dropEmptyVoices(from, to)
	p.shorten(from, to)
}

// shorten takes back what only dropped chords added to a measure's length:
// written-out runs rounded to whole divisions may stick out.
func (p *part) shorten(from, to int) {
	m := &p.measures[p.chords[from].Measure]
	kept, dropped := music.Frac{}, music.Frac{}
	for i := from; i < to; i++ {
		if c := &p.chords[i]; c.drop {
			dropped = dropped.Max(c.End())
		} else {
			kept = kept.Max(c.End())
		}
	}
	if dropped == m.Length && kept.Less(dropped) && kept.Sign() > 0 {
		m.Length = kept
	}
}

// heldOver reports whether the notes of chord i are tied over from a chord
// that stays. The chord before stands at most a measure back in the file.
func (p *part) heldOver(i int) bool {
	c := &p.chords[i]
	if !c.Notes[0].TieStop {
		return false
	}
	for k := i - 1; k >= 0 && k >= i-reach; k-- {
		b := &p.chords[k]
		if b.drop || b.Voice != c.Voice {
			continue
		}
		for _, n := range b.Notes {
			if n.TieStart && n.Pitch == c.Notes[0].Pitch && p.adjacent(b, c) {
				return true
			}
		}
	}
	return false
}

// reach bounds how far back in the file the start of a tie is looked for.
const reach = 200

// adjacent reports whether c starts where b ends.
func (p *part) adjacent(b, c *chord) bool {
	if b.Measure == c.Measure {
		return b.End() == c.Onset
	}
	return b.Measure+1 == c.Measure && c.Onset.IsZero() && b.End() == p.measures[b.Measure].Length
}

// hideHeads turns invisible notes of a visible chord into notes without a
// head, or drops them where another voice strikes the same key.
func (p *part) hideHeads(from, to, i int) {
	c := &p.chords[i]
	for j := len(c.Notes) - 1; j >= 0; j-- {
		if !c.hidden[j] {
			continue
		}
		n := c.Notes[j]
		if !n.TieStart && !n.TieStop && len(c.Notes) > 1 && p.strikes(from, to, i, n.Pitch) {
			c.removeNote(j)
			continue
		}
		c.Notes[j].Head = "none"
	}
}

func (c *chord) removeNote(j int) {
	c.Notes = append(c.Notes[:j:j], c.Notes[j+1:]...)
	c.hidden = append(c.hidden[:j:j], c.hidden[j+1:]...)
	for k := range c.Signs {
		if c.Signs[k].Note > j || c.Signs[k].Note >= len(c.Notes) {
			c.Signs[k].Note--
		}
	}
}

// strikes reports whether another chord of the measure has a visible note of
// this pitch at the same onset.
func (p *part) strikes(from, to, i int, pitch music.Pitch) bool {
	for k := from; k < to; k++ {
		if k == i || p.chords[k].Grace != nil || p.chords[k].Onset != p.chords[i].Onset {
			continue
		}
		for j := range p.chords[k].Notes {
			if p.chords[k].Notes[j].Pitch == pitch && !p.chords[k].hidden[j] {
				return true
			}
		}
	}
	return false
}

// dropRuns drops two or more invisible ordinary chords in a row that lie
// within a note with a sign and stay within a third of it: playback notes of
// files that do not mark them as cues.
func (p *part) dropRuns(from, to int) {
	for i := from; i < to; i++ {
		run := []int{}
		for k := i; k < to && p.chords[k].Voice == p.chords[i].Voice; k++ {
			c := &p.chords[k]
			if c.drop || len(c.Notes) == 0 || !c.Hidden || c.Grace != nil || k > i && p.chords[k].after != k-1 {
				break
			}
			if q := p.signed(from, to, k); q < 0 || !near(&p.chords[q].Chord, &c.Chord) {
				break
			}
			run = append(run, k)
		}
		if len(run) < 2 {
			continue
		}
		for _, k := range run {
			p.chords[k].drop = true
		}
		i = run[len(run)-1]
	}
}

// signed finds the visible chord with a sign, in another voice of the same
// staff, that lasts from before chord k to after it.
func (p *part) signed(from, to, k int) int {
	c := &p.chords[k]
	for q := from; q < to; q++ {
		s := &p.chords[q]
		if q != k && s.Voice != c.Voice && s.Staff == c.Staff && len(s.Signs) > 0 && !s.Hidden && len(s.Notes) > 0 && s.Grace == nil &&
			s.Onset.Cmp(c.Onset) <= 0 && c.End().Cmp(s.End()) <= 0 {
			return q
		}
	}
	return -1
}

func near(a, b *score.Chord) bool {
	for i := range a.Notes {
		for j := range b.Notes {
			if d := a.Notes[i].Pitch.Diatonic() - b.Notes[j].Pitch.Diatonic(); d >= -2 && d <= 2 {
				return true
			}
		}
	}
	return false
}

// moveSigns gives the signs stored on a dropped chord to the visible chord
// it stands for: of those that sound at its onset the nearest in pitch, of
// its own staff if there is one.
func (p *part) moveSigns(from, to, i int) {
	c := &p.chords[i]
	if len(c.Signs) == 0 {
		return
	}
	best, bestNote, least := -1, 0, 0
	for k := from; k < to; k++ {
		v := &p.chords[k]
		if v.drop || v.Hidden || v.Grace != nil || v.Cue || len(v.Notes) == 0 || c.Onset.Less(v.Onset) || v.End().Cmp(c.Onset) <= 0 {
			continue
		}
		for j := range v.Notes {
			d := v.Notes[j].Pitch.Diatonic() - c.Notes[0].Pitch.Diatonic()
			if d < 0 {
				d = -d
			}
			if v.Staff != c.Staff {
				d += 100
			}
			if best < 0 || d < least {
				best, bestNote, least = k, j, d
			}
		}
	}
	if best < 0 {
		p.d.warnings.Add(told.Place{Measure: p.measures[c.Measure].Number}, "an ornament sign on an invisible note was left out")
		return
	}
	for _, s := range c.Signs {
		s.Note = bestNote
		p.chords[best].Signs = append(p.chords[best].Signs, s)
	}
	c.Signs = nil
}

// dropEmptyVoices drops the invisible rests of voices that show nothing in
// this measure.
func (p *part) dropEmptyVoices(from, to int) {
	shown := map[string]bool{}
	for i := from; i < to; i++ {
		c := &p.chords[i]
		if !c.drop && (len(c.Notes) > 0 || !c.Hidden) && !p.closes(from, to, i) {
			shown[c.Voice] = true
		}
	}
	for i := from; i < to; i++ {
		if c := &p.chords[i]; len(c.Notes) == 0 && c.Hidden && !shown[c.Voice] {
			c.drop = true
		}
	}
}

// closes reports whether chord i is one of the printed small notes that close
// an ornament whose rest was written out invisibly: cue notes that follow an
// invisible rest or note of their voice and end with a note that carries a
// sign, or goes on by a tie.
func (p *part) closes(from, to, i int) bool {
	return p.closedBy(from, to, i) >= 0
}

func (p *part) closedBy(from, to, i int) int {
	small := func(c *chord) bool {
		return c.Cue && !c.Hidden && !c.drop && len(c.Notes) > 0 && c.Grace == nil
	}
	if !small(&p.chords[i]) {
		return -1
	}
	first, last := i, i
	for first > from && p.chords[first].after == first-1 && small(&p.chords[first-1]) {
		first--
	}
	for last+1 < to && p.chords[last+1].after == last && small(&p.chords[last+1]) {
		last++
	}
	if first == from || p.chords[first].after != first-1 || !p.chords[first-1].Hidden {
		return -1
	}
	for q := from; q < to; q++ {
		s := &p.chords[q]
		if s.drop || s.Hidden || s.Cue || s.Grace != nil || len(s.Notes) == 0 || q >= first && q <= last {
			continue
		}
		if same(s.End(), p.chords[last].End()) && s.Onset.Less(p.chords[first].Onset) &&
			(len(s.Signs) > 0 || s.Notes[0].TieStop) && near(&s.Chord, &p.chords[last].Chord) {
			return q
		}
	}
	return -1
}

// closing turns the small notes of [part.closes] into grace chords of the
// voice they close.
func (p *part) closing(from, to int) {
	owner := make([]int, to-from)
	for i := from; i < to; i++ {
		owner[i-from] = p.closedBy(from, to, i)
	}
	for i := from; i < to; i++ {
		q := owner[i-from]
		if q < 0 {
			continue
		}
		c, s := &p.chords[i], &p.chords[q]
		c.Grace, c.Cue = &score.Grace{}, false
		c.Onset, c.Dur = s.End(), music.Frac{}
		c.Voice = s.Voice
		c.Value.Actual, c.Value.Normal = 0, 0
	}
}

// same compares times, forgiving what files lose by rounding tuplets to whole
// divisions.
func same(a, b music.Frac) bool { return within(a.Sub(b), music.F(1, 32)) }
