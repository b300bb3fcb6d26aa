package musicxml

import (
	"cmp"
	"slices"
	"sort"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// assemble joins the parts that were read into a passage.
func (d *decoder) assemble(chosen []string) (*score.Passage, error) {
	out := &score.Passage{Title: d.title.Title(), Composer: d.title.Composer(), Part: chosen[0], Staves: 1, Year: d.title.year}
	parts := make([]*part, len(chosen))
	pitched := false
	var metres []at[metreChange]
	d.done = shareAssemble
	for i, id := range chosen {
		p := d.parts[id]
		parts[i] = p
		if err := p.settle(); err != nil {
			return nil, err
		}
		metres = append(metres, p.metres...)
		d.tell(p)
		if len(chosen) == 2 {
			p.toStaff(i + 1)
		}
		out.Staves = max(out.Staves, p.staves)
		for k := range p.chords {
			pitched = pitched || len(p.chords[k].Notes) > 0
		}
	}
	if len(chosen) == 2 {
		separateVoices(parts[0], parts[1])
	}
	if !pitched && d.broken != nil {
		return nil, d.broken
	}
	if !pitched {
		return nil, fileError(ErrUnsupported, "open a score for a keyboard instrument", "the part has no notes with a pitch")
	}
	d.joinMeasures(out, parts)
	for _, p := range parts {
		p.pour(out)
		d.step()
	}
	d.divide(out, metres)
	d.step()
	out.Sort()
	d.step()
	d.mendLines(out)
	d.mendTies(out)
	d.step()
	finishClefs(out)
	finishTempos(out)
	finishLines(out)
	d.nameNotes(out)
	d.step()
	if err := out.Check(); err != nil {
		return nil, fileError(ErrBroken, mendExport, "the notes do not fit together ({text})", "{text}", err.Error())
	}
	return out, nil
}

// step counts a part of the assembly as done.
func (d *decoder) step() {
	d.done = min(1, d.done+(1-shareAssemble)/8)
	d.breathe()
}

// tell completes what the list of parts says of a part that was read.
func (d *decoder) tell(p *part) {
	for i := range d.stats {
		s := &d.stats[i]
		if s.ID != p.id {
			continue
		}
		s.Chosen, s.Staves, s.Notes = true, max(s.Staves, p.staves), 0
		for k := range p.chords {
			s.Notes += len(p.chords[k].Notes)
		}
	}
}

// settle decides, once all measures are read, what only the context shows.
func (p *part) settle() error {
	p.staves = max(p.staves, 1)
	p.nameOpen()
	p.wordJumps()
	p.eachMeasure(p.dropWrittenOut)
	p.uniqueVoices()
	p.d.step()
	p.eachMeasure(p.exactTuplets)
	p.eachMeasure(p.closing)
	p.eachMeasure(p.leanGraces)
	p.d.step()
	for i := range p.chords {
		p.chords[i].sortNotes()
	}
	for i := range p.measures {
		p.fitSteps(i)
		p.fitRests(i)
	}
	p.d.step()
	if err := p.fillRepeats(); err != nil {
		return err
	}
	p.printSignatures()
	return nil
}

// sortNotes sorts a chord from low to high and keeps signs on their notes.
func (c *chord) sortNotes() {
	if len(c.Notes) < 2 {
		return
	}
	order := make([]int, len(c.Notes))
	for i := range order {
		order[i] = i
	}
	sorting.Stable(order, func(a, b int) int {
		x, y := c.Notes[a].Pitch, c.Notes[b].Pitch
		if x.MIDI() != y.MIDI() {
			return x.MIDI() - y.MIDI()
		}
		return x.Diatonic() - y.Diatonic()
	})
	place := make([]int, len(order))
	notes := make([]score.Note, len(order))
	for to, from := range order {
		place[from] = to
		notes[to] = c.Notes[from]
	}
	c.Notes = notes
	for i := range c.Signs {
		c.Signs[i].Note = place[c.Signs[i].Note]
	}
	sorting.Stable(c.Signs, func(a, b score.Sign) int { return a.Note - b.Note })
}

// fitSteps takes back what only a <forward> beyond the full measure and its notes added.
func (p *part) fitSteps(i int) {
	m, end := &p.measures[i], music.Frac{}
	from := sort.Search(len(p.chords), func(k int) bool { return p.chords[k].Measure >= i })
	for k := from; k < len(p.chords) && p.chords[k].Measure == i; k++ {
		if c := &p.chords[k]; !c.drop {
			end = end.Max(c.End())
		}
	}
	if full := m.Metre.Bar().Max(end); end.Sign() > 0 && full.Less(m.Length) {
		m.Length = full
	}
}

// fitRests gives whole-measure rests the length of their measure. Some files
// write four quarters for them in every metre.
func (p *part) fitRests(i int) {
	m := &p.measures[i]
	from := sort.Search(len(p.chords), func(k int) bool { return p.chords[k].Measure >= i })
	end, only := music.Frac{}, true
	for k := from; k < len(p.chords) && p.chords[k].Measure == i; k++ {
		if c := &p.chords[k]; !c.drop && !c.WholeRest {
			end, only = end.Max(c.End()), false
		}
	}
	if !only && end == m.Metre.Bar() {
		longest := music.Frac{}
		for k := from; k < len(p.chords) && p.chords[k].Measure == i; k++ {
			if c := &p.chords[k]; !c.drop && c.WholeRest {
				longest = longest.Max(c.End())
			}
		}
		if longest == m.Length {
			m.Length = end
		}
	}
	for k := from; k < len(p.chords) && p.chords[k].Measure == i; k++ {
		if c := &p.chords[k]; c.WholeRest && c.Onset.IsZero() {
			c.Dur = m.Length
		}
	}
}

// toStaff puts a one-staff part on a staff of the joined part.
func (p *part) toStaff(staff int) {
	p.staves = staff
	for i := range p.chords {
		p.chords[i].Staff = staff
		for j := range p.chords[i].Notes {
			p.chords[i].Notes[j].Staff = staff
		}
	}
	for i := range p.clefs {
		p.clefs[i].item.Staff = staff
	}
	for i := range p.marks {
		p.marks[i].item.Staff = staff
	}
}

// separateVoices renames the voices of q that p uses too.
func separateVoices(p, q *part) {
	used := map[string]bool{}
	for i := range p.chords {
		used[p.chords[i].Voice] = true
	}
	names := q.voiceNames()
	for v := range used {
		names.used[v] = true
	}
	renamed := map[string]string{}
	for i := range q.chords {
		v := q.chords[i].Voice
		if !used[v] {
			continue
		}
		if renamed[v] == "" {
			renamed[v] = names.fresh()
		}
		q.chords[i].Voice = renamed[v]
	}
}

// joinMeasures lays the measures of all parts over each other and end to end.
func (d *decoder) joinMeasures(out *score.Passage, parts []*part) {
	onset := music.Frac{}
	for i := 0; ; i++ {
		var m *score.Measure
		for _, p := range parts {
			if i >= len(p.measures) {
				continue
			}
			q := &p.measures[i]
			if m == nil {
				first := *q
				m = &first
				continue
			}
			m.Length = m.Length.Max(q.Length)
			m.RepeatStart = m.RepeatStart || q.RepeatStart
			m.RepeatEnd = m.RepeatEnd || q.RepeatEnd
			m.NewSystem = m.NewSystem || q.NewSystem
			if m.Barline == "" {
				m.Barline = q.Barline
			}
			if len(m.Endings) == 0 {
				m.Endings, m.EndingStop, m.EndingOpen = q.Endings, q.EndingStop, q.EndingOpen
			}
			for _, j := range q.Jumps {
				if !slices.Contains(m.Jumps, j) {
					m.Jumps = append(m.Jumps, j)
				}
			}
		}
		if m == nil {
			return
		}
		m.Onset = onset
		for k := range m.KeyChanges {
			m.KeyChanges[k].Onset = m.KeyChanges[k].Onset.Add(onset)
		}
		onset = onset.Add(m.Length)
		out.Measures = append(out.Measures, *m)
	}
}

// pour adds a part's chords, lines and marks to the passage.
func (p *part) pour(out *score.Passage) {
	start := func(measure int) music.Frac { return out.Measures[measure].Onset }
	// clamp keeps marks inside their measure.
	clamp := func(measure int, onset music.Frac) music.Frac {
		return start(measure).Add(onset.Min(out.Measures[measure].Length))
	}
	place := make([]int, len(p.chords))
	out.Chords = slices.Grow(out.Chords, len(p.chords))
	for i := range p.chords {
		c := &p.chords[i]
		if c.drop {
			place[i] = -1
			continue
		}
		place[i] = len(out.Chords)
		c.Onset = c.Onset.Add(start(c.Measure))
		out.Chords = append(out.Chords, c.Chord)
	}
	p.chords = nil // a large score stands in memory once
	for _, s := range p.slurs {
		s.From, s.To = place[s.From], place[s.To]
		if s.From >= 0 && s.To >= 0 && s.From != s.To {
			out.Slurs = append(out.Slurs, s)
		}
	}
	for _, t := range p.tuplets {
		if t.To < 0 || out.Chords[max(0, place[t.From])].Grace != nil {
			p.leave("tuplet")
			continue
		}
		if place[t.From] < 0 || place[t.To] < 0 || out.Chords[place[t.To]].Grace != nil {
			continue
		}
		t.From, t.To = place[t.From], place[t.To]
		out.Tuplets = append(out.Tuplets, t)
	}
	for _, c := range p.clefs {
		c.item.Onset = clamp(c.measure, c.item.Onset)
		out.Clefs = append(out.Clefs, c.item)
	}
	for _, t := range p.tempos {
		t.item.Onset = clamp(t.measure, t.item.Onset)
		out.Tempos = append(out.Tempos, t.item)
	}
	for i := range p.marks {
		m := &p.marks[i]
		m.item.Onset = clamp(m.measure, m.item.Onset)
		m.item.End = m.item.Onset
	}
	for _, e := range p.ends {
		m := &p.marks[e.mark].item
		m.End = clamp(e.measure, e.onset)
		if m.End.Less(m.Onset) {
			m.Onset, m.End = m.End, m.Onset
		}
	}
	for _, m := range p.marks {
		if m.item.Kind != "" {
			out.Marks = append(out.Marks, m.item)
		}
	}
	for i := range out.Slurs {
		if s := &out.Slurs[i]; out.Chords[s.To].Onset.Less(out.Chords[s.From].Onset) {
			s.From, s.To = s.To, s.From
		}
	}
}

// finishLines brings marks, slurs, tuplets and jumps into an order that does
// not depend on where the file keeps them.
func finishLines(out *score.Passage) {
	side := func(s score.Slur) int {
		switch {
		case !s.Placed:
			return 0
		case s.Above:
			return 1
		}
		return 2
	}
	sorting.Stable(out.Marks, func(a, b score.Mark) int {
		return cmp.Or(a.Onset.Cmp(b.Onset), a.Staff-b.Staff, strings.Compare(string(a.Kind), string(b.Kind)))
	})
	sorting.Stable(out.Slurs, func(a, b score.Slur) int { return cmp.Or(a.From-b.From, a.To-b.To, side(a)-side(b)) })
	sorting.Stable(out.Tuplets, func(a, b score.Tuplet) int { return cmp.Or(a.From-b.From, b.To-a.To) })
	for i := range out.Measures {
		slices.Sort(out.Measures[i].Jumps)
	}
}

// finishClefs sorts the clefs, drops those that change nothing and gives a
// staff without one the usual clef.
func finishClefs(out *score.Passage) {
	sorting.Stable(out.Clefs, func(a, b score.Clef) int { return cmp.Or(a.Onset.Cmp(b.Onset), a.Staff-b.Staff) })
	last := map[int]score.Clef{}
	kept := out.Clefs[:0]
	for _, c := range out.Clefs {
		b, ok := last[c.Staff]
		last[c.Staff] = c
		b.Onset = c.Onset
		if !ok || b != c {
			kept = append(kept, c)
		}
	}
	out.Clefs = kept
	for staff := out.Staves; staff >= 1; staff-- {
		i := slices.IndexFunc(out.Clefs, func(c score.Clef) bool { return c.Staff == staff })
		if i >= 0 && out.Clefs[i].Onset.IsZero() {
			continue
		}
		usual := score.Clef{Staff: staff, Sign: "G", Line: 2}
		if staff == 2 {
			usual.Sign, usual.Line = "F", 4
		}
		out.Clefs = append([]score.Clef{usual}, out.Clefs...)
	}
}

// finishTempos sorts the tempos and joins a heading with the number that
// stands at the same place.
func finishTempos(out *score.Passage) {
	sort.SliceStable(out.Tempos, func(i, k int) bool { return out.Tempos[i].Onset.Less(out.Tempos[k].Onset) })
	kept := out.Tempos[:0]
	for _, t := range out.Tempos {
		if len(kept) > 0 && kept[len(kept)-1].Onset == t.Onset {
			b := &kept[len(kept)-1]
			if b.QuartersPerMinute == 0 {
				b.QuartersPerMinute = t.QuartersPerMinute
			}
			if b.Text == "" {
				b.Text = t.Text
			} else if t.Text != "" && t.Text != b.Text {
				b.Text = oneLine(b.Text + " " + t.Text)
			}
			if b.PerMinute == 0 {
				b.Beat, b.PerMinute = t.Beat, t.PerMinute
			}
			continue
		}
		kept = append(kept, t)
	}
	out.Tempos = kept
}

// nameNotes gives an id to every note that has none: "n1", "n2" …, passing
// over names the file uses.
func (d *decoder) nameNotes(out *score.Passage) {
	next := 1
	if len(d.ids) == 0 {
		d.ids = make(map[score.ID]bool, len(out.Chords))
	}
	for i := range out.Chords {
		if i%8192 == 0 {
			d.breathe()
		}
		for j := range out.Chords[i].Notes {
			n := &out.Chords[i].Notes[j]
			for n.ID == "" {
				id := score.ID("n" + strconv.Itoa(next))
				next++
				if !d.ids[id] {
					d.ids[id] = true
					n.ID = id
				}
			}
		}
	}
}
