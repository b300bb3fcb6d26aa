package abc

import (
	"slices"
	"strconv"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// place puts a chord or rest into the current bar, with all that was waiting
// for it.
func (p *parser) place(d *draft) error {
	v := p.voice
	st := v.strand
	if p.chords++; p.chords > maxChords {
		return d.at.fail("there are more than {n} notes", "keep only the bars you work on", "{n}", strconv.Itoa(maxChords))
	}
	v.open(d.at)
	d.strand, d.bar = v.strandIndex(), v.bar
	if d.group == 0 {
		// Small notes leave a blank to the note they stand before.
		d.space, st.space = st.space, false
	}
	if st.broken != 0 && d.group == 0 {
		d.length = d.length.Mul(brokenShare(-st.broken))
		st.broken = 0
	}
	p.dressChord(d)
	if err := p.resolveTies(d); err != nil {
		return err
	}
	for _, sl := range st.opening {
		sl.from = d
	}
	st.opening = nil
	v.add(item{chord: d}, d.at)
	st.newest = d
	if d.group != 0 {
		return nil
	}
	st.last = d
	if t := st.tuplet; t != nil {
		d.tuplet = t
		if !d.Hidden { // a gap leaves nothing that a bracket could stand over
			if t.from == nil {
				t.from = d
			}
			t.to = d
		}
		if t.left--; t.left == 0 {
			st.tuplet = nil
		}
	}
	return nil
}

// dressChord gives a chord its signs and marks, and sorts its notes.
func (p *parser) dressChord(d *draft) {
	pend := p.pending
	p.pending = pending{}
	v := p.voice
	for _, m := range pend.marks {
		v.add(m, d.at)
	}
	if d.Hidden && len(d.Notes) == 0 {
		return
	}
	// A sign within a chord belongs to the note it stands before; the notes
	// are about to be sorted.
	order := make([]int, len(d.Notes))
	for i := range order {
		order[i] = i
	}
	sorting.Stable(order, func(a, b int) int {
		x, y := d.Notes[a].Pitch, d.Notes[b].Pitch
		if x.MIDI() != y.MIDI() {
			return x.MIDI() - y.MIDI()
		}
		return x.Diatonic() - y.Diatonic()
	})
	sorted := make([]score.Note, len(order))
	for to, from := range order {
		sorted[to] = d.Notes[from]
	}
	for _, s := range pend.signs {
		if s.Note > 0 {
			s.Note = slices.Index(order, s.Note-1)
		} else {
			s.Note = max(0, len(order)-1)
		}
		d.Signs = append(d.Signs, s)
	}
	d.Notes = sorted
	p.tellApart(d)
	// The signs of the outer note first, as they are written.
	sorting.Stable(d.Signs, func(a, b score.Sign) int {
		top := len(order) - 1
		if (a.Note == top) != (b.Note == top) {
			return b.Note - a.Note
		}
		return a.Note - b.Note
	})
	if len(pend.accidentals) > 0 {
		if i := slices.IndexFunc(d.Signs, func(s score.Sign) bool { return s.Kind != score.WavyLine }); i >= 0 {
			d.Signs[i].Accidentals = pend.accidentals
		} else {
			p.warn(pend.at, "an accidental in quotation marks has no sign")
		}
	}
	d.Artic = append(d.Artic, pend.artic...)
	d.Fermata = d.Fermata || pend.fermata
	if pend.arpeggio {
		d.Arpeggio = score.ArpeggioUp
	}
	if len(d.Notes) == 0 {
		if len(d.Signs) > 0 {
			p.warn(pend.at, "a sign on a rest was left out")
			d.Signs = nil
		}
		return
	}
	top := &d.Notes[len(d.Notes)-1]
	if pend.fingering != "" {
		top.Fingering = pend.fingering
	}
	if pend.courtesy {
		top.Parentheses = true
	}
}

// tellApart prints the accidentals of two notes that stand on one line of the
// staff in one chord: one without would be read like the other.
func (p *parser) tellApart(d *draft) {
	for j := 1; j < len(d.Notes); j++ {
		x, y := &d.Notes[j-1], &d.Notes[j]
		if x.Pitch.Diatonic() != y.Pitch.Diatonic() || x.Pitch == y.Pitch {
			continue
		}
		for _, n := range []*score.Note{x, y} {
			if n.Accidental == "" {
				n.Accidental = word(int(n.Pitch.Alter))
				p.warn(d.at, "two notes of a chord are on the same line or space: each was given its accidental; write [_A=A]")
			}
		}
	}
}

// resolveTies joins a chord to the notes tied into it.
func (p *parser) resolveTies(d *draft) error {
	st := p.voice.strand
	for _, t := range st.ties {
		if d.group != 0 && t.from.group == 0 {
			return nil // it leads over small notes to the next chord
		}
		i := slices.IndexFunc(d.Notes, func(n score.Note) bool { return n.Pitch == t.pitch && !n.TieStop })
		if i >= 0 {
			d.Notes[i].TieStop = true
			continue
		}
		if d.group != 0 {
			// Small notes before the second note: the tie waits.
			return nil
		}
		p.loose = append(p.loose, t)
	}
	st.ties = nil
	return nil
}

// tieLast starts ties on all notes of the last chord.
func (p *parser) tieLast(at place) bool {
	v := p.voice
	if v.bar == nil {
		return false
	}
	items := v.bar.items[v.strandIndex()]
	if len(items) == 0 || items[len(items)-1].chord == nil || len(items[len(items)-1].chord.Notes) == 0 {
		return false
	}
	d := items[len(items)-1].chord
	for i := range d.Notes {
		if !d.Notes[i].TieStart {
			p.startTie(d, i, at)
		}
	}
	return true
}

// tie starts a tie on one note of a chord.
func (p *parser) tie(d *draft, pitch music.Pitch, at place) {
	for i := range d.Notes {
		if d.Notes[i].Pitch == pitch && !d.Notes[i].TieStart {
			p.startTie(d, i, at)
			return
		}
	}
}

func (p *parser) startTie(d *draft, i int, at place) {
	d.Notes[i].TieStart = true
	p.voice.strand.ties = append(p.voice.strand.ties, tie{d, d.Notes[i].Pitch, at})
}

// brokenShare is the factor of the first note for dots > 0 (3/2, 7/4 …), of
// the second for dots < 0 (1/2, 1/4 …).
func brokenShare(dots int) music.Frac {
	if dots < 0 {
		return music.F(1, 1<<-dots)
	}
	return music.Int(2).Sub(music.F(1, 1<<dots))
}

// broken reads > >> >>> and their mirrors.
func (p *parser) broken(s *scanner) error {
	at, r := s.place(), s.peek(0)
	dots := len(s.while(func(x rune) bool { return x == r }))
	st := p.voice.strand
	if dots > 3 || st.last == nil || st.last.WholeRest || st.broken != 0 || p.voice.bar == nil || st.last.bar != p.voice.bar {
		return at.fail("a broken rhythm is not between two notes", "write it between two notes of equal length: A>B")
	}
	if r == '<' {
		dots = -dots
	}
	st.last.length = st.last.length.Mul(brokenShare(dots))
	st.broken = dots
	return nil
}

// tuplet reads (3, (3:2 and (3:2:4.
func (p *parser) tuplet(s *scanner) error {
	at := s.place()
	s.pos++
	var n [3]int
	for i := range n {
		if i > 0 && !s.take(':') {
			break
		}
		value, _, err := s.number()
		if err != nil {
			return err
		}
		n[i] = value
	}
	actual, normal, count := n[0], n[1], n[2]
	if actual < 2 || actual > maxTuplet || normal > maxTuplet || count > maxTuplet {
		return at.fail("this is not a tuplet", "write (3CDE for a triplet, (5:4CDEFG for others")
	}
	if normal == 0 {
		normal = p.tupletTime(actual)
	}
	if normal == 0 {
		return at.fail("it is not clear how many notes these {n} replace", "write ({n}:8, for instance", "{n}", strconv.Itoa(actual))
	}
	if count == 0 {
		count = actual
	}
	st := p.voice.strand
	if st.tuplet != nil {
		return at.fail("a tuplet begins inside another", "count the notes of the one before")
	}
	st.tuplet = &tupletGroup{at: at, actual: actual, normal: normal, left: count}
	p.tuplets = append(p.tuplets, st.tuplet)
	return nil
}

// tupletTime is the standard's table (ABC 2.1, section 4.13).
func (p *parser) tupletTime(actual int) int {
	switch actual {
	case 2, 4, 8:
		return 3
	case 3, 6:
		return 2
	case 5, 7, 9:
		if p.voice.metre.Compound() {
			return 3
		}
		return 2
	}
	return 0
}

// graces reads {gAg} and {/g}.
func (p *parser) graces(s *scanner) error {
	at := s.place()
	s.pos++
	slash := s.take('/')
	p.groups++
	group := p.groups
	outer := p.pending
	p.pending = pending{}
	for {
		switch r := s.peek(0); {
		case s.done():
			return at.fail("a group of grace notes has no closing brace", "close it with }")
		case r == '}':
			s.pos++
			if p.pending.at != (place{}) {
				p.dropPending()
			}
			p.pending = outer
			return nil
		case r == ' ' || r == '\t':
			s.pos++
		case r == '(' && !isDigit(s.peek(1)) || r == ')' || r == '-' || r == '!' || r == '"' || p.short[r] != "":
			if err := p.element(s); err != nil {
				return err
			}
		default:
			d, err := p.graceChord(s)
			if err != nil {
				return err
			}
			d.group, d.Grace = group, &score.Grace{Slash: slash}
			if err := p.place(d); err != nil {
				return err
			}
		}
	}
}
