package abc

import (
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// barline reads a bar line with its repeat dots and the numbers of a volta.
func (p *parser) barline(s *scanner, style string) error {
	at := s.place()
	// "[1" and "|1" open a volta; "|[K:" and "|[CE]" are a bar line and more.
	from := s.pos
	for isBar(s.peek(0)) {
		if s.peek(0) == '[' && s.pos > from && s.peek(1) != '|' && !isDigit(s.peek(1)) {
			break
		}
		s.pos++
	}
	text := string(s.text[from:s.pos])
	b := barline{style: style}
	bars := strings.IndexAny(text, "|]")
	if bars < 0 {
		bars = len(text) / 2 // "::"
		if text == ":" {
			p.warn(at, "a colon alone is not a bar line")
			return nil
		}
	}
	before := strings.Count(text[:bars], ":")
	after := strings.Count(text[bars:], ":")
	b.repeatEnd, b.repeatStart = before > 0, after > 0
	if times := max(before, after); times > 1 && strings.ContainsAny(text, "|]") {
		b.times = times + 1
	}
	switch {
	case text == "[|]":
		b.style = "none"
	case b.repeatEnd:
		b.style = "light-heavy"
	case strings.Contains(text, "|]"):
		b.style = "light-heavy"
	case strings.HasPrefix(text, "[|"):
		b.style = "heavy-light"
	case strings.Count(text, "|") >= 2:
		b.style = "light-light"
	}
	b.closes = b.style == "light-heavy" || b.style == "light-light" || b.style == "heavy-light"
	endings, err := p.endings(s)
	if err != nil {
		return err
	}
	b.endings = endings
	if text == "[" && endings == nil {
		p.warn(at, "a bracket alone is not a bar line")
		return nil
	}
	return p.bar(b, at)
}

// endings reads the numbers of a volta: 1, 1,3 and 1-3.
func (p *parser) endings(s *scanner) ([]int, error) {
	var endings []int
	for {
		at := s.place()
		n, ok, err := s.number()
		if err != nil {
			return nil, err
		}
		if !ok {
			return endings, nil
		}
		last := n
		if s.peek(0) == '-' && isDigit(s.peek(1)) {
			s.pos++
			if last, _, err = s.number(); err != nil {
				return nil, err
			}
		}
		if n < 1 || last < n || last > 32 || len(endings) > 32 {
			return nil, at.fail("the numbers of this first or second ending cannot be played", "write |1, |2 or |1,3")
		}
		for ; n <= last; n++ {
			endings = append(endings, n)
		}
		if s.peek(0) != ',' || !isDigit(s.peek(1)) {
			return endings, nil
		}
		s.pos++
	}
}

// bar ends the open bar and remembers what the line says to the next.
func (p *parser) bar(b barline, at place) error {
	v := p.voice
	if p.pending.at != (place{}) && v.bar != nil {
		p.atBarline()
	}
	if v.bar == nil && len(v.bars) > 0 {
		// A second line in a row, at the start of a text line for instance.
		v.bars[len(v.bars)-1].right = joinedLines(v.bars[len(v.bars)-1].right, b)
	}
	if v.bar != nil {
		if err := p.closeBar(b); err != nil {
			return err
		}
	}
	v.left = joinedLines(v.left, b)
	for _, st := range v.strands {
		st.clearBar()
	}
	v.strand = v.strands[0]
	return nil
}

// joinedLines adds what a second bar line says to the first.
func joinedLines(a, b barline) barline {
	if b.style != "" && (!a.repeatEnd || b.repeatEnd) {
		a.style = b.style
	}
	a.repeatEnd, a.repeatStart = a.repeatEnd || b.repeatEnd, a.repeatStart || b.repeatStart
	a.times, a.closes = max(a.times, b.times), a.closes || b.closes
	if b.endings != nil {
		a.endings = b.endings
	}
	return a
}

// atBarline gives the last note what comes before a bar line.
func (p *parser) atBarline() {
	last := p.voice.strand.last
	if p.pending.fermata && last != nil {
		last.Fermata = true
		p.pending = pending{}
		return
	}
	p.dropPending()
}

// closeBar gives every chord of the open bar its onset and value.
func (p *parser) closeBar(right barline) error {
	v := p.voice
	b := v.bar
	v.bar = nil
	b.right = right
	if v.strand != v.strands[0] {
		v.key = v.keyAfter
	}
	for i, items := range b.items {
		st := v.strands[i]
		if st.broken != 0 {
			return st.last.at.fail("a broken rhythm has no second note in its bar", "remove the > or <, or add a note")
		}
		st.last = nil
		items = v.carry(items)
		length, err := p.timeStrand(b, st, items)
		if err != nil {
			return err
		}
		b.length = b.length.Max(length)
	}
	if b.length.IsZero() {
		p.warn(b.at, "a bar without notes of its own was left out")
		v.left = b.left
		return nil
	}
	for i := range b.items {
		beam(b.chords, i)
	}
	v.bars = append(v.bars, b)
	if len(v.bars) > maxMeasures {
		return b.at.fail("there are more than {n} bars", "keep only the bars you work on", "{n}", strconv.Itoa(maxMeasures))
	}
	return nil
}

// carry takes what comes after the last note of a bar over to the next one. A
// key is known to the voice already.
func (v *voice) carry(items []item) []item {
	n := len(items)
	for n > 0 && items[n-1].chord == nil {
		n--
	}
	kept := items[:n:n]
	for _, it := range items[n:] {
		switch {
		case it.key != nil:
		case it.ends != nil:
			kept = append(kept, it)
		default:
			v.waiting = append(v.waiting, it)
		}
	}
	return kept
}

// timeStrand walks one strand of a bar and returns its length.
func (p *parser) timeStrand(b *bar, st *strand, items []item) (music.Frac, error) {
	at, chords := music.Frac{}, 0
	for _, it := range items {
		if it.chord != nil {
			chords++
		}
	}
	// Small notes up to here lean on a chord; those after it close one.
	leans := leaning(items, 0)
	for k := range items {
		it := &items[k]
		switch {
		case it.chord != nil && it.chord.Grace != nil:
			if err := p.timeGrace(b, it.chord, at, k >= leans); err != nil {
				return at, err
			}
		case it.chord != nil:
			if k >= leans {
				leans = leaning(items, k+1)
			}
			length, err := p.timeChord(b, it.chord, at, chords == 1)
			if err != nil {
				return at, err
			}
			if at = at.Add(length); !at.Bounded(maxFraction) || music.Int(maxBarQuarters).Less(at) {
				return at, it.chord.at.fail("this bar is too long", "add bar lines")
			}
		case it.mark != nil && it.mark.Kind == score.Wedge:
			p.wedge(b, st, it, at)
		case it.key != nil:
			b.printGraces(at, *it.key)
			b.changeKey(at, *it.key)
		default:
			b.marks = append(b.marks, placedMark{at, it})
		}
	}
	return at, nil
}

// changeKey notes a key from a place of the bar on. Of several at one place the
// last counts, and one that is in force already is none.
func (b *bar) changeKey(at music.Frac, key music.Key) {
	if n := len(b.keyChanges); n > 0 && b.keyChanges[n-1].Onset == at {
		b.keyChanges = b.keyChanges[:n-1]
	}
	before := b.key
	if n := len(b.keyChanges); n > 0 {
		before = b.keyChanges[n-1].Key
	}
	if key != before {
		b.keyChanges = append(b.keyChanges, score.KeyChange{Onset: at, Key: key})
	}
}

// printGraces prints the accidentals of small notes that stand before a change
// of key: they sound at its place, and are read in the key it brings.
func (b *bar) printGraces(at music.Frac, key music.Key) {
	for i := len(b.chords) - 1; i >= 0 && b.chords[i].Grace != nil && b.chords[i].Onset == at; i-- {
		for j := range b.chords[i].Notes {
			if n := &b.chords[i].Notes[j]; n.Accidental == "" && int(n.Pitch.Alter) != key.Alter(n.Pitch.Step) {
				n.Accidental = word(int(n.Pitch.Alter))
			}
		}
	}
}

// wedge opens a hairpin, or closes the last one that is open.
func (p *parser) wedge(b *bar, st *strand, it *item, at music.Frac) {
	if it.ends == nil {
		it.at, it.bar = at, b
		st.wedges = append(st.wedges, it)
		b.marks = append(b.marks, placedMark{at, it})
		return
	}
	for i := len(st.wedges) - 1; i >= 0; i-- {
		if open := st.wedges[i]; open.mark.Text == it.mark.Text {
			open.ends = &item{at: at, bar: b}
			st.wedges = append(st.wedges[:i], st.wedges[i+1:]...)
			return
		}
	}
}

// leaning returns the index of the next ordinary chord from k on, which the
// small notes before it lean on; k itself where a rest or nothing comes first.
func leaning(items []item, k int) int {
	for i := k; i < len(items); i++ {
		if c := items[i].chord; c != nil && c.Grace == nil {
			if len(c.Notes) == 0 {
				break // a rest: small notes close what was before
			}
			return i
		}
	}
	return k
}

// timeGrace gives a small note its value and place. A closing one belongs to
// the chord before.
func (p *parser) timeGrace(b *bar, d *draft, at music.Frac, closes bool) error {
	value, ok := valueOf(d.length)
	if !ok || d.length.Less(shortest) {
		return d.at.fail("a grace note of this length has no note value", "write {g}, {g2} or {g/2}")
	}
	d.Value, d.Onset = value, at
	d.Grace.After = closes
	b.chords = append(b.chords, d)
	return nil
}

// timeChord gives a chord its value, split into tied ones where there is no
// single value, and returns how long it lasts. A rest alone in its bar fills it.
func (p *parser) timeChord(b *bar, d *draft, at music.Frac, alone bool) (music.Frac, error) {
	ratio := music.Int(1)
	if t := d.tuplet; t != nil {
		ratio = music.F(int64(t.normal), int64(t.actual))
	}
	total := d.length.Mul(ratio)
	if d.Hidden && len(d.Notes) == 0 {
		return total, nil
	}
	if d.length.Less(shortest) || !valueFits(d.length) {
		return at, d.at.fail("a note of this length has no note value", "the shortest is a 256th")
	}
	values := split(at, d.length, b.metre)
	if alone && d.IsRest() && d.length == b.metre.Bar() && d.tuplet == nil {
		d.WholeRest = true
	}
	if d.WholeRest {
		values = []score.Value{{Type: score.Whole}}
	}
	for i, piece := range d.split(len(values)) {
		piece.Value, piece.Onset = values[i], at
		piece.Dur = values[i].Quarters().Mul(ratio)
		if d.WholeRest {
			piece.Dur = total
		}
		if t := d.tuplet; t != nil {
			piece.Value.Actual, piece.Value.Normal = t.actual, t.normal
		}
		at = at.Add(piece.Dur)
		b.chords = append(b.chords, piece)
	}
	return total, nil
}

// valueFits reports whether a length is a sum of values down to a 256th.
func valueFits(d music.Frac) bool { return d.Den() <= 64 }

// split returns n chords tied to each other that stand for d, d itself first.
// Only the first carries the signs.
func (d *draft) split(n int) []*draft {
	d.pieces = []*draft{d}
	for range n - 1 {
		q := &draft{at: d.at, strand: d.strand, bar: d.bar, tuplet: d.tuplet}
		for _, note := range d.Notes {
			q.Notes = append(q.Notes, score.Note{Pitch: note.Pitch, TieStop: true, TieStart: true})
		}
		d.pieces = append(d.pieces, q)
	}
	last := d.pieces[n-1]
	for j := range d.Notes {
		ends := d.Notes[j].TieStart
		d.Notes[j].TieStart = true
		last.Notes[j].TieStart = ends
	}
	return d.pieces
}
