package musicxml

import (
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// maxNumber is the highest number the schema gives to lines that overlap.
const maxNumber = 16

// span is where a line begins and ends in the order of the file.
type span struct {
	index, from, to int
}

// planNumbers gives slurs and tuplets the numbers that tell overlapping ones
// apart in the order of the file.
func (w *encoder) planNumbers() {
	p := w.p
	place := make([]int, len(p.Chords))
	n := 0
	for _, lines := range w.lines {
		for _, l := range lines {
			for _, k := range l.chords {
				place[k] = n
				n++
			}
		}
	}
	w.slurs, w.tuplets = map[int][]numbered{}, map[int][]numbered{}
	var slurs, tuplets []span
	for i, s := range p.Slurs {
		if s.From != s.To {
			slurs = append(slurs, span{i, place[s.From], place[s.To]})
		}
	}
	for i, t := range p.Tuplets {
		tuplets = append(tuplets, span{i, place[t.From], place[t.To]})
	}
	for _, a := range allot(slurs) {
		s := p.Slurs[a.index]
		w.slurs[s.From] = append(w.slurs[s.From], numbered{a.index, a.number, false})
		w.slurs[s.To] = append([]numbered{{a.index, a.number, true}}, w.slurs[s.To]...)
	}
	for _, a := range allot(tuplets) {
		t := p.Tuplets[a.index]
		w.tuplets[t.From] = append(w.tuplets[t.From], numbered{a.index, a.number, false})
		w.tuplets[t.To] = append(w.tuplets[t.To], numbered{a.index, a.number, true})
	}
}

// allot gives each span the lowest number that is free over its length. What
// finds none is left out.
func allot(spans []span) []numbered {
	sorting.Stable(spans, func(a, b span) int {
		if c := min(a.from, a.to) - min(b.from, b.to); c != 0 {
			return c
		}
		return max(b.from, b.to) - max(a.from, a.to)
	})
	var busy [maxNumber + 1]int
	for i := range busy {
		busy[i] = -1
	}
	var out []numbered
	for _, s := range spans {
		for n := 1; n <= maxNumber; n++ {
			if busy[n] < min(s.from, s.to) {
				busy[n] = max(s.from, s.to)
				out = append(out, numbered{index: s.index, number: n})
				break
			}
		}
	}
	return out
}

// event is something that stands at an onset beside the notes. Those of staff
// 0 are written after all voices of their measure.
type event struct {
	onset music.Frac
	staff int
	write func()
}

// planEvents distributes clefs, key changes, tempos and marks among the
// measures.
func (w *encoder) planEvents() {
	p := w.p
	w.events = make([][]event, len(p.Measures))
	add := func(onset music.Frac, staff int, write func()) {
		i := p.MeasureAt(onset)
		w.events[i] = append(w.events[i], event{onset, staff, write})
	}
	for i := range p.Measures {
		for _, k := range p.Measures[i].KeyChanges {
			w.events[i] = append(w.events[i], event{k.Onset, 1, func() {
				w.start("attributes")
				w.keySignature(k.Key)
				w.end()
				w.key = k.Key
			}})
		}
	}
	for _, c := range p.Clefs {
		if i := p.MeasureAt(c.Onset); c.Onset != p.Measures[i].Onset {
			add(c.Onset, c.Staff, func() {
				w.start("attributes")
				w.clef(c)
				w.end()
			})
		}
	}
	for _, t := range p.Tempos {
		add(t.Onset, 1, func() { w.tempo(t) })
	}
	w.planMarks(add)
	for _, events := range w.events {
		sorting.Stable(events, func(a, b event) int { return a.onset.Cmp(b.onset) })
	}
}

// planMarks adds the marks, and the ends of those that are lines.
func (w *encoder) planMarks(add func(music.Frac, int, func())) {
	p := w.p
	free := map[score.MarkKind][maxNumber + 1]music.Frac{}
	for i := range p.Marks {
		m := &p.Marks[i]
		number := 1
		line := m.Kind == score.Wedge || m.Kind == score.OctaveShift || m.Kind == score.Dashes
		if line {
			taken := free[m.Kind]
			for number < maxNumber && m.Onset.Less(taken[number]) {
				number++
			}
			// A line without an end stays open in the file as well.
			taken[number] = m.End.Max(m.Onset)
			free[m.Kind] = taken
		}
		staff := m.Staff
		if line {
			// Its end must not come before its start in the file.
			staff = 0
		}
		add(m.Onset, staff, func() { w.mark(m, number) })
		if line && m.Onset.Less(m.End) {
			at := m.End
			k := p.MeasureAt(at)
			// The end belongs to the measure that it ends.
			if at == p.Measures[k].Onset && k > 0 {
				k--
			}
			w.events[k] = append(w.events[k], event{at, 0, func() { w.markEnd(m, number) }})
		}
	}
}

func (w *encoder) jumps(m *score.Measure, where string) {
	for _, j := range m.Jumps {
		switch {
		case (j == "segno" || j == "coda") && where == "start":
			w.start("direction", "placement", "above")
			w.start("direction-type")
			w.empty(j)
			w.end()
			w.empty("sound", j, j)
			w.end()
		case where == "end" && (j == "fine" || j == "dacapo"):
			w.empty("sound", j, "yes")
		case where == "end" && j == "dalsegno":
			w.empty("sound", j, "segno")
		case where == "end" && j == "tocoda":
			w.empty("sound", j, "coda")
		}
	}
}
