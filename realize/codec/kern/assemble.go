package kern

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"agremens/realize/codec/told"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// assembly turns what was read into a passage.
type assembly struct {
	*reader
	out   *score.Passage
	staff map[*track]int
	how   map[score.ID]*note // what was written of each note

	order   []*draft // those that reached the passage, voice by voice
	drafts  []*draft // the same in the order of the passage
	tuplets []tuplet
}

func (r *reader) assemble() (*Result, error) {
	all := r.parts()
	staves, err := choose(all, r.options.Part)
	if err != nil {
		return nil, err
	}
	if len(staves) > 2 {
		r.warnings.Add(told.Place{}, "the part has {n} staves; the two upper ones were read", "{n}", number(len(staves)))
		staves = staves[:2]
	}
	if slices.ContainsFunc(staves, (*staff).transposed) {
		r.warnings.Add(told.Place{}, "the part is for a transposing instrument; it stands here as it sounds, in another key than in print")
	}
	a := &assembly{reader: r, staff: map[*track]int{}, how: map[score.ID]*note{}}
	a.out = &score.Passage{Title: r.records.Title(), Composer: r.records.Composer(), Year: r.records.Year(), Part: "P1", Staves: len(staves)}
	if len(r.measures) == 0 {
		return nil, fail(told.Place{}, "open a score for a keyboard instrument", "the file holds no notes with a pitch")
	}
	a.joinMeasures()
	a.roads()
	a.voices(staves)
	a.out.Sort()
	a.reindex()
	a.nameNotes()
	a.mendTies()
	printAccidentals(a.out, a.how)
	a.lines()
	a.finishClefs()
	a.finishMarks()
	if err := a.out.Check(); err != nil {
		return nil, fail(told.Place{}, mendFetch, "the notes do not fit together ({text})", "{text}", err.Error())
	}
	result := &Result{Passage: a.out, Warnings: r.warnings.List(), Left: r.left.List()}
	for _, p := range all {
		result.Parts = append(result.Parts, p.PartInfo)
	}
	return result, nil
}

// joinMeasures lays the measures end to end and gives numbers to those without.
func (a *assembly) joinMeasures() {
	onset := music.Frac{}
	split := 0
	for i := range a.measures {
		m := a.measures[i].Measure
		if m.Number == "" {
			split++
			m.Number, m.Implicit = "X"+strconv.Itoa(split), true
		}
		m.Onset = onset
		kept := m.KeyChanges[:0]
		for _, k := range m.KeyChanges {
			if k.Onset.Less(m.Length) {
				k.Onset = k.Onset.Add(onset)
				kept = append(kept, k)
			}
		}
		m.KeyChanges = kept
		if len(kept) == 0 {
			m.KeyChanges = nil
		}
		onset = onset.Add(m.Length)
		a.out.Measures = append(a.out.Measures, m)
	}
}

// absolute returns the onset of a place in the passage.
func (a *assembly) absolute(measure int, onset music.Frac) music.Frac {
	if measure >= len(a.out.Measures) {
		return a.out.End()
	}
	m := &a.out.Measures[measure]
	return m.Onset.Add(onset.Min(m.Length))
}

// voices gives every column's chords a voice and what depends on the chords
// around them, and pours them into the passage.
func (a *assembly) voices(staves []*staff) {
	first := 1
	for s, staff := range staves {
		lanes := map[*track]int{}
		slots := 0
		for _, t := range staff.tracks {
			a.staff[t] = s + 1
			lanes[t] = slots
			slots += t.slots
		}
		voices := make([][]*draft, slots)
		for _, d := range a.chords {
			if lane, ours := lanes[d.track]; ours && d.track != nil && d.Measure < len(a.out.Measures) {
				voices[lane+d.slot-1] = append(voices[lane+d.slot-1], d)
			}
		}
		for _, v := range a.untangle(voices) {
			a.voice(v, s+1, number(first))
			first++
		}
		if s == 0 && first < 5 {
			first = 5 // as notation programs count
		}
	}
}

// untangle makes each voice a line: a chord that begins while another of its
// voice lasts moves to a voice that is free. Empty voices go.
func (a *assembly) untangle(voices [][]*draft) [][]*draft {
	for i := 0; i < len(voices) && i < maxColumns; i++ {
		var over []*draft
		kept := voices[i][:0:0]
		measure, end := -1, music.Frac{}
		for _, d := range voices[i] {
			if d.Measure != measure {
				measure, end = d.Measure, music.Frac{}
			}
			if d.Onset.Less(end) {
				over = append(over, d)
				continue
			}
			kept = append(kept, d)
			end = d.Onset.Add(d.Dur)
		}
		voices[i] = kept
		if len(over) > 0 {
			voices = append(voices, over)
		}
	}
	return slices.DeleteFunc(voices, func(v []*draft) bool { return len(v) == 0 })
}

// voice finishes the chords of a voice, which stand in order.
func (a *assembly) voice(v []*draft, staff int, name string) {
	leanGraces(v)
	beams(v)
	a.wholeRests(v)
	a.tuplets = append(a.tuplets, tuplets(v)...)
	for _, d := range v {
		d.Chord.Staff, d.Voice = staff, name
		d.Onset = a.absolute(d.Measure, d.Onset)
		for j := range d.Notes {
			d.Notes[j].Staff = staff
		}
		d.sortNotes()
		signWriter{d, a.out.KeyAt(d.Onset), a.options.AsPrinted}.ornaments()
	}
	closeLines(v)
	for _, d := range v {
		if d.IsRest() && d.Hidden {
			continue // a place holder: nothing is printed, nothing sounds
		}
		d.index = len(a.out.Chords)
		a.out.Chords = append(a.out.Chords, d.Chord)
		a.order = append(a.order, d)
	}
}

// leanGraces gives small notes the onset of the chord they lean on: the next
// of their voice in the measure. Where none follows, or a rest, they close
// the chord before.
func leanGraces(v []*draft) {
	before := make([]*draft, len(v)) // the last chord with notes in the measure
	for i := 1; i < len(v); i++ {
		b := v[i-1]
		switch {
		case b.Measure != v[i].Measure:
		case b.Grace == nil && !b.IsRest():
			before[i] = b
		default:
			before[i] = before[i-1]
		}
	}
	var next *draft
	for i := len(v) - 1; i >= 0; i-- {
		d, b := v[i], before[i]
		if d.Grace == nil {
			next = d
			continue
		}
		if next != nil && next.Measure == d.Measure && (!next.IsRest() || b == nil) {
			d.Onset = next.Onset
			continue
		}
		d.Grace.After = true
		if b != nil {
			d.Onset = b.Onset.Add(b.Dur)
		}
	}
}

// wholeRests marks the rests that fill their measure.
func (a *assembly) wholeRests(v []*draft) {
	for i, d := range v {
		m := &a.out.Measures[d.Measure]
		alone := (i == 0 || v[i-1].Measure != d.Measure) && (i == len(v)-1 || v[i+1].Measure != d.Measure)
		if alone && d.Grace == nil && d.IsRest() && d.Dur == m.Length && (d.Dur == m.Metre.Bar() || d.Value.Type == score.Unspecified) {
			d.WholeRest, d.Value = true, score.Value{Type: score.Whole}
		}
	}
}

// closeLines ends every wavy line on the last chord that goes on with it.
func closeLines(v []*draft) {
	type end struct{ chord, sign int }
	open := end{-1, 0}
	stop := func() {
		if open.chord < 0 {
			return
		}
		d := v[open.chord]
		if s := &d.Signs[open.sign]; s.Line == "continue" {
			s.Line = "stop"
		} else {
			d.Signs = append(d.Signs, score.Sign{Kind: score.WavyLine, Line: "stop", Note: s.Note})
		}
		open.chord = -1
	}
	for i, d := range v {
		for k := 0; k < len(d.Signs); k++ {
			s := &d.Signs[k]
			if s.Kind != score.WavyLine || s.Line == "stop" {
				continue
			}
			if s.Line == "start" {
				stop()
			} else if open.chord < 0 {
				s.Line = "start" // its beginning stands in another voice
			}
			open = end{i, k}
		}
	}
	stop()
}

// sortNotes sorts a chord from low to high; a pitch written twice stays once.
func (d *draft) sortNotes() {
	sorting.Stable(d.Notes, func(x, y score.Note) int {
		return cmp.Or(x.Pitch.MIDI()-y.Pitch.MIDI(), x.Pitch.Diatonic()-y.Pitch.Diatonic())
	})
	d.Notes = slices.CompactFunc(d.Notes, func(x, y score.Note) bool { return x.Pitch == y.Pitch })
}

// reindex finds the drafts in the sorted passage again. Sorting is stable: the
// n-th chord of a voice stays the n-th.
func (a *assembly) reindex() {
	by := map[string][]*draft{}
	for _, d := range a.order {
		by[d.Voice] = append(by[d.Voice], d)
	}
	a.drafts = make([]*draft, len(a.out.Chords))
	for i := range a.out.Chords {
		v := a.out.Chords[i].Voice
		a.drafts[i], by[v] = by[v][0], by[v][1:]
		a.drafts[i].index = i
	}
}

// nameNotes gives ids in the order of the passage.
func (a *assembly) nameNotes() {
	n := 0
	for i := range a.out.Chords {
		c := &a.out.Chords[i]
		for j := range c.Notes {
			n++
			c.Notes[j].ID = score.ID("n" + strconv.Itoa(n))
			for k := range a.drafts[i].written {
				if w := &a.drafts[i].written[k]; w.hasPitch && w.pitch == c.Notes[j].Pitch {
					a.how[c.Notes[j].ID] = w
					break
				}
			}
		}
	}
}

// lines adds slurs and tuplets, by index.
func (a *assembly) lines() {
	for _, s := range a.slurs {
		from, to := s.from.index, s.to.index
		if from < 0 || to < 0 || from == to {
			a.left.Add("slur")
			continue
		}
		if to < from {
			from, to = to, from
		}
		a.out.Slurs = append(a.out.Slurs, score.Slur{From: from, To: to, Above: s.side > 0, Placed: s.side != 0})
	}
	for i := range a.curves {
		if from := a.curves[i].from.index; from >= 0 && !a.curves[i].phrase {
			a.out.Chords[from].SlurBegins = true
		}
		a.left.Add("slur")
		a.warnings.Add(told.Place{}, "a slur without an end was left out")
	}
	for _, t := range a.tuplets {
		from, to := t.from.index, t.to.index
		if from < 0 || to <= from {
			continue
		}
		a.out.Tuplets = append(a.out.Tuplets, score.Tuplet{From: from, To: to, Actual: t.actual, Normal: t.normal,
			Bracket: t.bracket, ShowNumber: !t.silent, Above: t.side > 0, Placed: t.side != 0})
	}
	sorting.Stable(a.out.Slurs, func(x, y score.Slur) int { return cmp.Or(x.From-y.From, x.To-y.To) })
	sorting.Stable(a.out.Tuplets, func(x, y score.Tuplet) int { return cmp.Or(x.From-y.From, y.To-x.To) })
}

// finishClefs sorts the clefs, drops those that change nothing, and gives a
// staff without one the usual clef.
func (a *assembly) finishClefs() {
	for t, staff := range a.staff {
		for _, k := range t.clefs {
			c := k.item.Clef
			c.Staff, c.Onset = staff, a.absolute(k.measure, k.onset)
			a.out.Clefs = append(a.out.Clefs, c)
		}
	}
	sorting.Stable(a.out.Clefs, func(x, y score.Clef) int {
		return cmp.Or(x.Onset.Cmp(y.Onset), x.Staff-y.Staff, strings.Compare(x.Sign, y.Sign), x.Line-y.Line)
	})
	last := map[int]score.Clef{}
	kept := a.out.Clefs[:0]
	for _, c := range a.out.Clefs {
		b, ok := last[c.Staff]
		last[c.Staff] = c
		b.Onset = c.Onset
		if !ok || b != c {
			kept = append(kept, c)
		}
	}
	a.out.Clefs = kept
	for staff := a.out.Staves; staff >= 1; staff-- {
		i := slices.IndexFunc(a.out.Clefs, func(c score.Clef) bool { return c.Staff == staff })
		if i >= 0 && a.out.Clefs[i].Onset.IsZero() {
			continue
		}
		usual := score.Clef{Staff: staff, Sign: "G", Line: 2}
		if staff == 2 {
			usual.Sign, usual.Line = "F", 4
		}
		a.out.Clefs = append([]score.Clef{usual}, a.out.Clefs...)
	}
}

// finishMarks adds tempos, dynamics, words, pedals and octave lines.
func (a *assembly) finishMarks() {
	for _, t := range a.tempos {
		t.item.Onset = a.absolute(t.measure, t.onset)
		a.out.Tempos = append(a.out.Tempos, t.item)
	}
	for _, p := range a.marks {
		m := p.mark
		m.Staff = 1
		if p.track != nil && p.track.kind == "kern" {
			staff, ours := a.staff[p.track]
			if !ours {
				continue
			}
			m.Staff = staff
		}
		m.Onset = a.absolute(p.measure, p.onset)
		m.End = m.Onset
		if p.ended {
			m.End = a.absolute(p.endMeasure, p.end).Max(m.Onset)
		}
		if m.Kind == score.Wedge && m.End == m.Onset {
			m.Kind, m.Text = score.Words, p.label
		}
		if m.Kind == score.OctaveShift && m.End == m.Onset {
			m.End = a.out.End()
		}
		a.out.Marks = append(a.out.Marks, m)
	}
	sorting.Stable(a.out.Marks, func(x, y score.Mark) int {
		return cmp.Or(x.Onset.Cmp(y.Onset), x.Staff-y.Staff, strings.Compare(string(x.Kind), string(y.Kind)))
	})
	a.out.Marks = slices.CompactFunc(a.out.Marks, func(x, y score.Mark) bool { return x == y })
}
