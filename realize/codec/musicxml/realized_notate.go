package musicxml

import (
	"slices"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// newChord is a chord that was written out.
type newChord struct {
	score.Chord
	source int
}

// newTuplet spans chords of writer.chords.
type newTuplet struct{ from, to, actual, normal int }

// notate turns the items into chords: cut at the bar lines, and what follows
// without a gap in one voice given its values together.
func (w *writer) notate() {
	voices := map[string][]item{}
	var order []string
	for _, it := range w.items {
		if voices[it.voice] == nil {
			order = append(order, it.voice)
		}
		voices[it.voice] = append(voices[it.voice], it)
	}
	for _, v := range order {
		pieces := w.cut(voices[v])
		for i := 0; i < len(pieces); {
			j := i + 1
			for j < len(pieces) && pieces[j].measure == pieces[i].measure && pieces[j].onset == pieces[j-1].end {
				j++
			}
			w.run(pieces[i:j])
			i = j
		}
	}
}

// piece is the part of an item within one measure; before and after say that
// it continues the piece before and is continued.
type piece struct {
	item
	measure       int // -1 is the added upbeat
	before, after bool
}

func (w *writer) cut(items []item) []piece {
	var out []piece
	for _, it := range items {
		for from := it.onset; from.Less(it.end); {
			p := piece{item: it, measure: -1, before: from != it.onset}
			until := w.p.Measures[0].Onset
			if !from.Less(until) {
				p.measure = w.p.MeasureAt(from)
				until = w.p.Measures[p.measure].End()
			}
			p.onset, p.end = from, it.end.Min(until)
			if p.end.Cmp(from) <= 0 {
				break // beyond the last measure
			}
			p.after = p.end.Less(it.end)
			out = append(out, p)
			from = p.end
		}
	}
	return out
}

// run gives values to pieces that follow each other.
func (w *writer) run(pieces []piece) {
	choice := &realize.Choice{}
	total := music.Frac{}
	for _, p := range pieces {
		choice.Notes = append(choice.Notes, realize.Note{Dur: p.end.Sub(p.onset)})
		total = total.Add(p.end.Sub(p.onset))
	}
	values := realize.Notate(choice, total)
	started := map[int]bool{}
	tuplets := map[int]int{}
	now := pieces[0].onset
	for k, v := range values {
		p := &pieces[v.Note]
		last := k+1 == len(values) || values[k+1].Note != v.Note
		until := p.end
		if !last {
			until = p.end.Min(now.Add(v.Value.Quarters()))
		}
		if until.Cmp(now) <= 0 {
			continue
		}
		c := newChord{source: p.source, Chord: score.Chord{
			Measure: p.measure, Onset: now, Dur: until.Sub(now), Value: v.Value, Staff: p.staff, Voice: p.voice,
		}}
		for _, n := range p.notes {
			n.TieStop = p.before || started[v.Note]
			n.TieStart = p.after || !last
			if n.TieStop {
				n.ID = ""
			}
			c.Notes = append(c.Notes, n)
		}
		started[v.Note] = true
		now = until
		w.chords = append(w.chords, c)
		w.joinTuplet(tuplets, v)
	}
}

// joinTuplet widens the tuplet of the chord written last.
func (w *writer) joinTuplet(tuplets map[int]int, v realize.Written) {
	if v.Tuplet == 0 {
		return
	}
	at := len(w.chords) - 1
	k, ok := tuplets[v.Tuplet]
	if !ok {
		k = len(w.tuplets)
		tuplets[v.Tuplet] = k
		w.tuplets = append(w.tuplets, newTuplet{at, at, v.Value.Actual, v.Value.Normal})
	}
	w.tuplets[k].to = at
}

// finish puts kept and new chords together.
func (w *writer) finish() {
	out := w.out
	old := out.Chords
	out.Chords = nil
	touched := map[touch]bool{}
	place := make([]int, len(old))
	for i := range old {
		place[i] = -1
		c := old[i]
		if c.IsRest() {
			if c.Hidden || w.free(c.Voice, interval{c.Onset, c.End()}) {
				place[i] = len(out.Chords)
				out.Chords = append(out.Chords, c)
			}
			continue
		}
		if c.Grace != nil {
			continue
		}
		var notes []score.Note
		for j := range c.Notes {
			if w.kept[score.Ref{Chord: i, Note: j}] {
				notes = append(notes, c.Notes[j])
			}
		}
		if len(notes) < len(c.Notes) {
			touched[touch{c.Measure, c.Voice}] = true
		}
		if len(notes) == 0 {
			continue
		}
		c.Notes, c.Signs = notes, nil
		if len(notes) < 2 {
			c.Arpeggio, c.ArpeggioDirected = "", false
		}
		place[i] = len(out.Chords)
		out.Chords = append(out.Chords, c)
	}
	kept := slices.Clone(place)
	w.passOn(old)
	base := len(out.Chords)
	for k := range w.chords {
		c := &w.chords[k]
		sorting.Stable(c.Notes, func(a, b score.Note) int { return a.Pitch.MIDI() - b.Pitch.MIDI() })
		touched[touch{c.Measure, c.Voice}] = true
		if place[c.source] < 0 {
			place[c.source] = base + k
		}
		out.Chords = append(out.Chords, c.Chord)
	}
	w.moveLines(place, kept, base)
	if w.first.Sign() > 0 {
		w.addUpbeat()
	}
	out.Sort()
	w.settleCues()
	w.nameNew()
	w.dressUp(touched)
	finishLines(out)
}

// settleCues prints small notes that sound in full size where the ornaments
// written out beside them would make them an alternative.
func (w *writer) settleCues() {
	sounded := map[score.ID]bool{}
	for i := range w.p.Chords {
		for _, n := range w.p.Chords[i].Notes {
			sounded[n.ID] = w.cues[i]
		}
	}
	sounds := w.out.CuesSounding()
	for i := range w.out.Chords {
		if c := &w.out.Chords[i]; c.Cue && !sounds[i] && !c.IsRest() && sounded[c.Notes[0].ID] {
			c.Cue = false
		}
	}
}

// passOn gives the articulation of a chord that was written out to its first
// note and the fermata to its last.
func (w *writer) passOn(old []score.Chord) {
	first, last := map[int]int{}, map[int]int{}
	for k := range w.chords {
		s := w.chords[k].source
		if b, ok := first[s]; !ok || w.chords[k].Onset.Less(w.chords[b].Onset) {
			first[s] = k
		}
		if b, ok := last[s]; !ok || w.chords[b].Onset.Less(w.chords[k].Onset) {
			last[s] = k
		}
	}
	for s, k := range first {
		w.chords[k].Artic = old[s].Artic
	}
	for s, k := range last {
		w.chords[k].Fermata = old[s].Fermata
	}
}

// touch is a voice in a measure that changed.
type touch struct {
	measure int
	voice   string
}

// moveLines lets slurs and tuplets follow their chords. A slur at a chord
// that was written out holds to its first note; a tuplet that lost a chord at
// its ends is gone.
func (w *writer) moveLines(place, kept []int, base int) {
	out := w.out
	var slurs []score.Slur
	for _, s := range out.Slurs {
		s.From, s.To = place[s.From], place[s.To]
		if s.From >= 0 && s.To >= 0 && s.From != s.To && !out.Chords[s.To].Onset.Less(out.Chords[s.From].Onset) {
			slurs = append(slurs, s)
		}
	}
	out.Slurs = slurs
	var tuplets []score.Tuplet
	for _, t := range out.Tuplets {
		t.From, t.To = kept[t.From], kept[t.To]
		if t.From >= 0 && t.To >= 0 {
			tuplets = append(tuplets, t)
		}
	}
	for _, t := range w.tuplets {
		tuplets = append(tuplets, score.Tuplet{From: base + t.from, To: base + t.to, Actual: t.actual, Normal: t.normal, ShowNumber: true})
	}
	out.Tuplets = tuplets
}

// addUpbeat puts a short measure in front.
func (w *writer) addUpbeat() {
	out := w.out
	start, by := out.Measures[0].Onset, w.first
	move := func(x music.Frac) music.Frac { return x.Add(by) }
	upbeat := score.Measure{Number: "0", Onset: start, Length: by, Key: out.Measures[0].Key, Metre: out.Measures[0].Metre, Implicit: true}
	for i := range out.Measures {
		m := &out.Measures[i]
		m.Onset = move(m.Onset)
		for k := range m.KeyChanges {
			m.KeyChanges[k].Onset = move(m.KeyChanges[k].Onset)
		}
	}
	out.Measures = append([]score.Measure{upbeat}, out.Measures...)
	for i := range out.Chords {
		out.Chords[i].Onset = move(out.Chords[i].Onset)
		out.Chords[i].Measure++
	}
	// What stood at the very start still does.
	for i := range out.Clefs {
		if c := &out.Clefs[i]; c.Onset != start {
			c.Onset = move(c.Onset)
		}
	}
	for i := range out.Tempos {
		if t := &out.Tempos[i]; t.Onset != start {
			t.Onset = move(t.Onset)
		}
	}
	for i := range out.Marks {
		m := &out.Marks[i]
		m.Onset, m.End = move(m.Onset), move(m.End)
	}
}

// nameNew gives ids to notes without one.
func (w *writer) nameNew() {
	d := &decoder{ids: map[score.ID]bool{}}
	for i := range w.p.Chords {
		for _, n := range w.p.Chords[i].Notes {
			d.ids[n.ID] = true
		}
	}
	d.nameNotes(w.out)
}
