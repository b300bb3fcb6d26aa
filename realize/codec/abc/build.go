package abc

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// builder turns the voices into one passage.
type builder struct {
	*parser
	out    *score.Passage
	index  map[*draft]int
	onsets map[*bar]music.Frac
}

// build puts the voices together bar by bar.
func (p *parser) build() (*score.Passage, error) {
	b := &builder{parser: p, index: map[*draft]int{}, onsets: map[*bar]music.Frac{}}
	b.out = &score.Passage{
		Title:    strings.Join(p.title, ", "),
		Composer: p.composer,
		Year:     p.year,
		Part:     "P1",
	}
	p.voices = slices.DeleteFunc(p.voices, func(v *voice) bool {
		return v.implied && len(v.bars) == 0 && len(p.voices) > 1
	})
	b.out.Tempos = slices.Clone(p.tempos)
	staves := p.staves()
	b.out.Staves = len(staves)
	if err := b.measures(); err != nil {
		return nil, err
	}
	if len(b.out.Measures) == 0 {
		at := place{1, 1}
		return nil, at.fail("the text has no notes", "write some: CDEF|")
	}
	number := 0
	for i, voices := range staves {
		for _, v := range voices {
			for strand := range v.strands {
				if number++; b.strand(v, strand, i+1, strconv.Itoa(number)) {
					continue
				}
				number--
			}
		}
		b.clef(voices, i+1)
	}
	if err := b.bounded(); err != nil {
		return nil, err
	}
	b.tieAcross()
	b.cutTies()
	b.lines()
	b.out.Sort()
	n := 0
	for i := range b.out.Chords {
		for j := range b.out.Chords[i].Notes {
			n++
			b.out.Chords[i].Notes[j].ID = score.ID("n" + strconv.Itoa(n))
		}
	}
	b.sortMarks()
	if err := b.out.Check(); err != nil {
		return nil, place{1, 1}.fail(strings.TrimPrefix(err.Error(), "score: "), "please report this text")
	}
	return b.out, nil
}

// measures joins the bars of all voices.
func (b *builder) measures() error {
	count := 0
	for _, v := range b.voices {
		count = max(count, len(v.bars))
	}
	var onset music.Frac
	var first *bar
	for i := range count {
		m := score.Measure{Onset: onset}
		first = nil
		for _, v := range b.voices {
			if i >= len(v.bars) {
				continue
			}
			bar := v.bars[i]
			b.onsets[bar] = onset
			m.Length = m.Length.Max(bar.length)
			if first == nil {
				first = bar
				m.Key, m.Metre = bar.key, bar.metre
				m.NewSystem = bar.newLine && i > 0
			}
			b.compare(v, first, bar, i)
			if bar.key.Fifths != first.key.Fifths {
				bar.printKey(first.key)
			}
			b.merge(&m, bar)
		}
		b.out.Measures = append(b.out.Measures, m)
		if onset = onset.Add(m.Length); !onset.Bounded(maxFraction) {
			return first.at.fail("the rhythms in these bars are too complex to compute exactly", "write simpler tuplets, and fill each bar")
		}
	}
	b.number()
	return nil
}

// merge adds what one voice's bar says of its measure.
func (b *builder) merge(m *score.Measure, bar *bar) {
	m.RepeatStart = m.RepeatStart || bar.left.repeatStart
	m.RepeatEnd = m.RepeatEnd || bar.right.repeatEnd
	if bar.right.repeatEnd {
		m.Times = max(m.Times, bar.right.times)
	}
	if bar.right.style != "" {
		m.Barline = bar.right.style
	}
	if bar.left.endings != nil {
		m.Endings = bar.left.endings
	}
	m.EndingStop = m.EndingStop || bar.right.closes
	for _, j := range bar.jumps {
		if !slices.Contains(m.Jumps, j) {
			m.Jumps = append(m.Jumps, j)
		}
	}
	for _, k := range bar.keyChanges {
		k.Onset = k.Onset.Add(m.Onset)
		if !slices.Contains(m.KeyChanges, k) {
			m.KeyChanges = append(m.KeyChanges, k)
		}
	}
	sorting.Stable(m.KeyChanges, func(a, b score.KeyChange) int { return a.Onset.Cmp(b.Onset) })
}

// printKey prints the accidentals of the bar's own key that another, which is
// shown, does not hold.
func (b *bar) printKey(shown music.Key) {
	chords := slices.Clone(b.chords)
	sorting.Stable(chords, func(x, y *draft) int { return x.Onset.Cmp(y.Onset) })
	printed := map[int]int{} // alteration in force by place on the staff
	for _, d := range chords {
		for j := range d.Notes {
			n := &d.Notes[j]
			at := n.Pitch.Diatonic()
			inForce, marked := printed[at]
			if !marked {
				inForce = shown.Alter(n.Pitch.Step)
			}
			if n.Accidental == "" && !n.TieStop && int(n.Pitch.Alter) != inForce {
				n.Accidental = word(int(n.Pitch.Alter))
			}
			if n.Accidental != "" {
				printed[at] = int(n.Pitch.Alter)
			}
		}
	}
}

// compare warns where voices disagree about a bar.
func (b *builder) compare(v *voice, first, bar *bar, i int) {
	switch {
	case bar == first:
	case bar.length != first.length:
		b.warn(bar.at, "bar {n} of voice {voice} is not as long as in the voice above it; in quarter notes: {a} and {b}", "{n}", strconv.Itoa(i+1), "{voice}", v.id, "{a}", bar.length.String(), "{b}", first.length.String())
	case bar.key != first.key:
		b.warn(bar.at, "bar {n} of voice {voice} has another key than the voice above it: its accidentals are printed on the notes", "{n}", strconv.Itoa(i+1), "{voice}", v.id)
	case !slices.Equal(bar.keyChanges, first.keyChanges):
		b.warn(bar.at, "the key changes elsewhere in bar {n} of voice {voice} than in the voice above it", "{n}", strconv.Itoa(i+1), "{voice}", v.id)
	case bar.metre != first.metre:
		b.warn(bar.at, "bar {n} of voice {voice} has another time signature than the voice above it", "{n}", strconv.Itoa(i+1), "{voice}", v.id)
	}
}

// number gives the measures their numbers: a pickup is 0, the second half of
// a bar that a repeat or double line splits is not counted. It spreads voltas
// over their measures.
func (b *builder) number() {
	ms := b.out.Measures
	n, split := 0, 0
	var open []int
	for i := range ms {
		m := &ms[i]
		short := m.Metre.Unit != 0 && m.Length.Less(m.Metre.Bar())
		switch {
		case i == 0 && short && len(ms) > 1:
			m.Number, m.Implicit = "0", true
		case i > 1 && short && ms[i-1].Barline != "" && !ms[i-1].Implicit && ms[i-1].Length.Add(m.Length) == m.Metre.Bar():
			split++
			m.Number, m.Implicit = "X"+strconv.Itoa(split), true
		default:
			n++
			m.Number = strconv.Itoa(n)
		}
		b.checkLength(i, short)
		if m.Endings != nil {
			open = m.Endings
			if i > 0 && ms[i-1].Endings != nil {
				ms[i-1].EndingStop = true
			}
		}
		m.Endings = slices.Clone(open)
		if open == nil {
			m.EndingStop = false
			continue
		}
		if i == len(ms)-1 {
			m.EndingStop = true
		}
		if m.EndingStop {
			m.EndingOpen = m.Barline != "light-heavy"
			open = nil
		}
	}
}

// barPlace returns where the bar of index i begins in the text.
func (b *builder) barPlace(i int) place {
	for _, v := range b.voices {
		if i < len(v.bars) {
			return v.bars[i].at
		}
	}
	return place{1, 1}
}

// checkLength warns of a bar that its metre does not explain.
func (b *builder) checkLength(i int, short bool) {
	ms := b.out.Measures
	m := &ms[i]
	if m.Metre.Unit == 0 {
		return
	}
	at := b.barPlace(i)
	switch {
	case m.Metre.Bar().Less(m.Length):
		b.warn(at, "bar {n} is longer than its {metre}; in quarter notes: {a}", "{n}", m.Number, "{a}", m.Length.String(), "{metre}", m.Metre.String())
	case short && !m.Implicit && i < len(ms)-1 && m.Barline == "":
		b.warn(at, "bar {n} is shorter than its {metre}; in quarter notes: {a}", "{n}", m.Number, "{a}", m.Length.String(), "{metre}", m.Metre.String())
	}
}

// strand adds the chords of one strand of a voice, and reports whether it had any.
func (b *builder) strand(v *voice, strand, staff int, name string) bool {
	any := false
	for i, bar := range v.bars {
		onset := b.onsets[bar]
		for _, d := range bar.chords {
			if d.strand != strand {
				continue
			}
			any = true
			c := d.Chord
			c.Measure, c.Onset, c.Staff, c.Voice = i, c.Onset.Add(onset), staff, name
			for j := range c.Notes {
				c.Notes[j].Staff = staff
			}
			b.index[d] = len(b.out.Chords)
			b.out.Chords = append(b.out.Chords, c)
		}
		if strand > 0 {
			continue
		}
		for _, mark := range bar.marks {
			b.mark(v, mark, onset, staff)
		}
	}
	return any
}

// mark adds a mark, tempo or clef.
func (b *builder) mark(v *voice, mark placedMark, bar music.Frac, staff int) {
	onset := bar.Add(mark.at)
	switch it := mark.item; {
	case it.tempo != nil:
		t := *it.tempo
		t.Onset = onset
		if !slices.Contains(b.out.Tempos, t) {
			b.out.Tempos = append(b.out.Tempos, t)
		}
	case it.clef != nil:
		c := *it.clef
		c.Staff, c.Onset = staff, onset
		b.out.Clefs = append(b.out.Clefs, c)
	case it.mark != nil:
		m := *it.mark
		m.Onset, m.End, m.Staff = onset, onset, staff
		if m.Kind == score.Wedge {
			if it.ends == nil {
				b.warn(it.bar.at, "a hairpin has no end and was left out")
				return
			}
			m.End = b.onsets[it.ends.bar].Add(it.ends.at)
		}
		b.out.Marks = append(b.out.Marks, m)
	}
}

// together returns the least common multiple of a denominator and that of x;
// what grows beyond all names stays there.
func together(den int64, x music.Frac) int64 {
	if den == 0 {
		den = 1
	}
	a, b := den, x.Den()
	for b != 0 {
		a, b = b, a%b
	}
	if den > maxFraction || x.Den() > maxFraction {
		return maxFraction * 2
	}
	return den / a * x.Den()
}

// writable reports whether times of this denominator can be written as a
// length within a tuplet.
func writable(den int64) bool {
	odd := den
	for odd%2 == 0 {
		odd /= 2
	}
	return den <= maxFraction && odd <= maxTuplet && den/odd <= maxDivision
}

// bounded refuses onsets that later sums could not hold.
func (b *builder) bounded() error {
	ok := func(onset music.Frac) bool { return onset.Bounded(maxFraction) }
	fine := true
	for _, m := range b.out.Measures {
		for _, k := range m.KeyChanges {
			fine = fine && ok(k.Onset)
		}
	}
	common := make([]int64, len(b.out.Measures))
	for i := range b.out.Chords {
		c := &b.out.Chords[i]
		fine = fine && ok(c.Onset) && ok(c.End())
		start := b.out.Measures[c.Measure].Onset
		common[c.Measure] = together(together(common[c.Measure], c.Onset.Sub(start)), c.End().Sub(start))
	}
	for i, m := range b.out.Measures {
		// What one voice leaves of a bar that others fill must have a name too.
		if !writable(together(common[i], m.Length)) {
			return b.barPlace(i).fail("the rhythms in this bar are too complex to compute exactly", "write simpler tuplets")
		}
	}
	for _, m := range b.out.Marks {
		fine = fine && ok(m.Onset) && ok(m.End)
	}
	for _, t := range b.out.Tempos {
		fine = fine && ok(t.Onset)
	}
	for _, c := range b.out.Clefs {
		fine = fine && ok(c.Onset)
	}
	if !fine {
		return place{1, 1}.fail("the rhythms in this text are too complex to compute exactly", "write simpler tuplets, and fill each bar")
	}
	return nil
}

// lines adds slurs and tuplets, by index.
func (b *builder) lines() {
	for _, s := range b.slurs {
		from, okFrom := b.index[s.from]
		to, okTo := b.index[s.to.last()]
		if okFrom && okTo {
			b.out.Slurs = append(b.out.Slurs, score.Slur{From: from, To: to})
		}
	}
	for _, t := range b.tuplets {
		if t.from == nil {
			continue
		}
		from, okFrom := b.index[t.from]
		to, okTo := b.index[t.to.last()]
		if okFrom && okTo {
			b.out.Tuplets = append(b.out.Tuplets, score.Tuplet{From: from, To: to,
				Actual: t.actual, Normal: t.normal, Bracket: !oneBeam(t), ShowNumber: true})
		}
	}
}

// oneBeam reports whether a tuplet is exactly one beamed group.
func oneBeam(t *tupletGroup) bool {
	first, last := t.from.Beams, t.to.last().Beams
	if len(first) == 0 || len(last) == 0 || first[0] != score.BeamBegin || last[0] != score.BeamEnd || t.from.bar != t.to.bar {
		return false
	}
	inside := false
	for _, d := range t.from.bar.chords {
		if d == t.from {
			inside = true
		}
		if d.strand != t.from.strand || d.group != 0 || !inside {
			continue
		}
		if d == t.to.last() {
			return true
		}
		if len(d.Beams) == 0 || d.Beams[0] == score.BeamEnd {
			return false
		}
	}
	return false
}

// clef gives a staff its first clef: the one written, else by how high it lies.
func (b *builder) clef(voices []*voice, staff int) {
	for _, v := range voices {
		if v.clef != nil {
			c := *v.clef
			c.Staff = staff
			b.out.Clefs = append(b.out.Clefs, c)
			return
		}
	}
	c := score.Clef{Staff: staff, Sign: "G", Line: 2}
	sum, n := 0, 0
	for i := range b.out.Chords {
		for _, note := range b.out.Chords[i].Notes {
			if note.Staff == staff {
				sum, n = sum+note.Pitch.MIDI(), n+1
			}
		}
	}
	if staff > 1 && (n == 0 || sum < 60*n) {
		c.Sign, c.Line = "F", 4
	}
	b.out.Clefs = append(b.out.Clefs, c)
}

// sortMarks brings what is at onsets into order.
func (b *builder) sortMarks() {
	sorting.Stable(b.out.Clefs, func(x, y score.Clef) int {
		if c := x.Onset.Cmp(y.Onset); c != 0 {
			return c
		}
		return x.Staff - y.Staff
	})
	sorting.Stable(b.out.Tempos, func(x, y score.Tempo) int { return x.Onset.Cmp(y.Onset) })
	sorting.Stable(b.out.Marks, func(x, y score.Mark) int {
		if c := x.Onset.Cmp(y.Onset); c != 0 {
			return c
		}
		return x.Staff - y.Staff
	})
	sorting.Stable(b.out.Slurs, func(x, y score.Slur) int { return x.From - y.From })
	sorting.Stable(b.out.Tuplets, func(x, y score.Tuplet) int { return x.From - y.From })
}
