package realize

import (
	"slices"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// site is one ornament as it stands in the passage: principal, signs and
// small notes, before anything is known about how to play it.
type site struct {
	ref    score.Ref
	signs  []score.Sign
	prefix []int // grace chords before the principal
	suffix []int // grace chords that close it
	rolled score.Arpeggio
	figure figure
	// stored is the note the file puts the sign on, where that differs.
	stored int
	moved  bool
	// also are other notes of the chord that the choices replace.
	also []int
	// room is the principal's value with the ties that follow it.
	room music.Frac
	// own is the value before any tie.
	own music.Frac
	// continues says that the note is tied to one with a trill of its own.
	continues bool
}

// line is a voice as a chain: the chords that sound, in order, with links.
type links struct {
	prev, next []int // per chord, among ordinary chords (rests included), -1
	graces     [][]int
	closing    [][]int
}

// link chains the ordinary chords of each voice and hangs the small notes on
// the chord they belong to.
func link(p *score.Passage) *links {
	n := len(p.Chords)
	l := &links{make([]int, n), make([]int, n), make([][]int, n), make([][]int, n)}
	last := map[string]int{}
	waiting := map[string][]int{}
	for i := range p.Chords {
		l.prev[i], l.next[i] = -1, -1
	}
	for i := range p.Chords {
		c := &p.Chords[i]
		before, seen := last[c.Voice]
		if c.Grace != nil {
			if c.Grace.After && seen {
				l.closing[before] = append(l.closing[before], i)
			} else {
				waiting[c.Voice] = append(waiting[c.Voice], i)
			}
			continue
		}
		if seen {
			l.prev[i], l.next[before] = before, i
		}
		if w := waiting[c.Voice]; len(w) > 0 {
			switch {
			case seen && !p.Chords[before].IsRest() && (c.IsRest() || l.closes(p, before, i, w)):
				l.closing[before] = append(l.closing[before], w...)
			case c.IsRest():
				last[c.Voice] = i
				continue // keep waiting for a note
			default:
				l.graces[i] = w
			}
			delete(waiting, c.Voice)
		}
		last[c.Voice] = i
	}
	for voice, w := range waiting {
		if before, seen := last[voice]; seen && !p.Chords[before].IsRest() {
			l.closing[before] = append(l.closing[before], w...)
		}
	}
	l.closeTied(p)
	return l
}

// closeTied hands small notes that close the last of several tied notes to
// the first, where that is trilled: the trill goes on through the ties.
func (l *links) closeTied(p *score.Passage) {
	for i, closing := range l.closing {
		first := l.tiedFrom(p, i)
		if len(closing) > 0 && first != i && shaken(&p.Chords[first]) {
			l.closing[first], l.closing[i] = append(l.closing[first], closing...), nil
		}
	}
}

// tiedFrom returns the first of the tied chords that lead to chord i.
func (l *links) tiedFrom(p *score.Passage, i int) int {
	for before := l.prev[i]; before >= 0 && tiedTo(&p.Chords[before], &p.Chords[i]); before = l.prev[i] {
		i = before
	}
	return i
}

// tiedTo reports whether a note of a is tied to one of b, which follows it.
func tiedTo(a, b *score.Chord) bool {
	for _, n := range a.Notes {
		for _, m := range b.Notes {
			if n.TieStart && m.TieStop && n.Pitch == m.Pitch && a.End() == b.Onset {
				return true
			}
		}
	}
	return false
}

// shaken reports whether a trill stands on a chord.
func shaken(c *score.Chord) bool {
	for i := range c.Signs {
		if signFigure(&c.Signs[i]).shaken() {
			return true
		}
	}
	return false
}

// closes reports whether a group of small notes before chord i belongs to the
// trill on the chord before: two or more that start a step or a third from
// the trilled note. One small note is the next note's appoggiatura.
func (l *links) closes(p *score.Passage, before, i int, graces []int) bool {
	if len(graces) < 2 || p.Chords[before].End() != p.Chords[i].Onset {
		return false
	}
	if !shaken(&p.Chords[l.tiedFrom(p, before)]) || len(p.Chords[graces[0]].Notes) == 0 {
		return false
	}
	first := p.Chords[graces[0]].Top().Pitch.Diatonic()
	for _, n := range p.Chords[before].Notes {
		if d := first - n.Pitch.Diatonic(); d == -1 || d == 0 {
			return true
		}
	}
	return false
}

// gather finds every ornament of a passage, in order of onset, then staff.
func gather(p *score.Passage, l *links) []site {
	var sites []site
	for i := range p.Chords {
		c := &p.Chords[i]
		if c.Grace != nil || c.IsRest() {
			continue
		}
		sites = append(sites, chordSites(p, l, i)...)
	}
	sorting.Stable(sites, func(a, b site) int {
		x, y := &p.Chords[a.ref.Chord], &p.Chords[b.ref.Chord]
		if c := x.Onset.Cmp(y.Onset); c != 0 {
			return c
		}
		return x.Staff - y.Staff
	})
	return sites
}

func chordSites(p *score.Passage, l *links, i int) []site {
	c := &p.Chords[i]
	byNote := map[int]*site{}
	var order []int
	at := func(note int) *site {
		s := byNote[note]
		if s == nil {
			s = &site{ref: score.Ref{Chord: i, Note: note}, stored: note}
			byNote[note] = s
			order = append(order, note)
		}
		return s
	}
	own := signsOfTheirOwn(c)
	put := func(sign score.Sign) {
		if sign.Kind == score.WavyLine && sign.Line != "start" && sign.Line != "" {
			return // the end of a line that started elsewhere adds nothing
		}
		note := sign.Note
		if !own {
			note = outerNote(p, i, sign)
		}
		s := at(note)
		if sign.Note != note && len(c.Notes) > 1 {
			s.stored, s.moved = sign.Note, true
		}
		s.signs = append(s.signs, sign)
		s.figure = stack(s.figure, signFigure(&sign))
	}
	for _, sign := range c.Signs {
		put(sign)
	}
	graces := l.graces[i]
	for _, g := range graces {
		for _, sign := range p.Chords[g].Signs {
			sign.Note, sign.Placed, sign.Above = len(c.Notes)-1, true, true
			put(sign)
		}
	}
	if len(graces) > 0 {
		s := at(graceTarget(p, i, graces))
		s.prefix = graces
		if s.figure == noFigure {
			s.figure = graceFigure
			if len(graces) > 1 {
				s.figure = graceGroupFigure
			}
		}
		s.also = leaningToo(p, s, graces)
	}
	if len(l.closing[i]) > 0 {
		note := len(c.Notes) - 1
		for _, n := range order {
			if byNote[n].figure.shaken() {
				note = n
			}
		}
		s := at(note)
		s.suffix = l.closing[i]
		if s.figure == noFigure {
			s.figure = afterFigure
		}
	}
	if c.Arpeggio.Rolled() {
		note := len(c.Notes) - 1
		if len(order) > 0 {
			note = order[0]
		}
		s := at(note)
		s.rolled = c.Arpeggio
		if s.figure == noFigure {
			s.figure = arpeggioFigure
		}
		s.also = others(len(c.Notes), note)
	}
	var sites []site
	for _, note := range order {
		s := byNote[note]
		switch s.figure {
		case tremoloFigure:
			s.also = others(len(c.Notes), note)
		case thirdFigure:
			if j := thirdFrom(c, note); j >= 0 {
				s.also = []int{j}
			}
		}
		s.own, s.room, s.continues = roomOf(p, l, s.ref)
		sites = append(sites, *s)
	}
	return sites
}

// signsOfTheirOwn reports whether several notes of a chord carry signs: each
// then has its own, on whichever side it is printed.
func signsOfTheirOwn(c *score.Chord) bool {
	first := -1
	for _, s := range c.Signs {
		switch {
		case s.Kind == score.WavyLine:
		case first < 0:
			first = s.Note
		case s.Note != first:
			return true
		}
	}
	return false
}

func others(count, note int) []int {
	var rest []int
	for j := range count {
		if j != note {
			rest = append(rest, j)
		}
	}
	return rest
}

// outerNote returns the note a sign belongs to: the top one of the chord for
// a sign above, the bottom one for a sign below. Without a side it is the top
// note, except in the lower of two voices on a staff.
func outerNote(p *score.Passage, i int, sign score.Sign) int {
	c := &p.Chords[i]
	top := len(c.Notes) - 1
	if sign.Placed {
		if sign.Above {
			return top
		}
		return 0
	}
	if top > 0 && c.Stem == score.StemDown && lowerVoice(p, i) {
		return 0
	}
	return top
}

// lowerVoice reports whether another voice of the staff sounds above chord i.
func lowerVoice(p *score.Passage, i int) bool {
	c := &p.Chords[i]
	m := &p.Measures[c.Measure]
	for j := p.FirstAt(m.Onset); j < len(p.Chords) && p.Chords[j].Onset.Less(m.End()); j++ {
		d := &p.Chords[j]
		if d.Staff == c.Staff && d.Voice != c.Voice && d.Grace == nil && !d.IsRest() &&
			d.Onset.Less(c.End()) && c.Onset.Less(d.End()) && d.Top().Pitch.MIDI() > c.Top().Pitch.MIDI() {
			return true
		}
	}
	return false
}

// graceTarget returns the chord note that the small notes lean on: the
// nearest to the last of them, the upper one of two as near.
func graceTarget(p *score.Passage, i int, graces []int) int {
	c, g := &p.Chords[i], &p.Chords[graces[len(graces)-1]]
	if len(g.Notes) == 0 {
		return len(c.Notes) - 1
	}
	from, best, least := g.Top().Pitch.Diatonic(), len(c.Notes)-1, 1<<20
	for j := len(c.Notes) - 1; j >= 0; j-- {
		d := from - c.Notes[j].Pitch.Diatonic()
		if d < 0 {
			d = -d
		}
		if d < least {
			best, least = j, d
		}
	}
	// Above the whole chord, or two steps off, it is the melody that leans.
	if least > 1 && len(c.Notes) > 1 {
		best = len(c.Notes) - 1
	}
	return best
}

// leaningToo returns the further chord notes that lean with the principal:
// a small chord of two before a chord leans with both its notes.
func leaningToo(p *score.Passage, s *site, graces []int) []int {
	c := &p.Chords[s.ref.Chord]
	if len(graces) != 1 || len(p.Chords[graces[0]].Notes) < 2 || len(c.Notes) < 2 {
		return s.also
	}
	var also []int
	for _, g := range p.Chords[graces[0]].Notes {
		best, least := -1, 3
		for j := range c.Notes {
			d := g.Pitch.Diatonic() - c.Notes[j].Pitch.Diatonic()
			if d < 0 {
				d = -d
			}
			if d < least && j != s.ref.Note && !slices.Contains(also, j) {
				best, least = j, d
			}
		}
		if best >= 0 && g.Pitch != p.Chords[graces[0]].Top().Pitch {
			also = append(also, best)
		}
	}
	return also
}

// roomOf sums a note's value with the ties that follow it, up to a tied note
// that carries a trill sign of its own.
func roomOf(p *score.Passage, l *links, r score.Ref) (own, room music.Frac, continues bool) {
	c := &p.Chords[r.Chord]
	own, room = c.Dur, c.Dur
	for _, t := range p.TiedOn(r)[1:] {
		tied := &p.Chords[t.Chord]
		if hasSign(tied) {
			break
		}
		room = room.Add(tied.Dur)
	}
	if p.At(r).TieStop && l.prev[r.Chord] >= 0 {
		before := &p.Chords[l.prev[r.Chord]]
		for j := range before.Signs {
			continues = continues || signFigure(&before.Signs[j]).shaken()
		}
	}
	return own, room, continues
}

func hasSign(c *score.Chord) bool {
	for j := range c.Signs {
		if c.Signs[j].Kind != score.WavyLine {
			return true
		}
	}
	return false
}
