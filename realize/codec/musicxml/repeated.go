package musicxml

import (
	"slices"
	"strconv"

	"agremens/realize/music"
	"agremens/realize/score"
)

// repeatSign is a sign that repeats measures: from and to are those that show
// it, half-open, each group of size the one before it.
type repeatSign struct {
	staff    int // 0 both
	from, to int
	size     int
}

const maxRepeated = 8 // measures that one sign may repeat

// readMeasureRepeat notes where measures are written as a sign.
func (p *part) readMeasureRepeat(e element, staff int) error {
	text, err := p.r.text()
	if err != nil {
		return err
	}
	here := len(p.measures) - 1
	if i := p.repeating[staff]; i > 0 {
		p.repeats[i-1].to = here
		p.repeating[staff] = 0
	}
	if e.attr("type") == "start" {
		size, ok := atoi(text, 1, maxRepeated)
		if !ok {
			size = 1
		}
		p.repeats = append(p.repeats, repeatSign{staff: staff, from: here, to: -1, size: size})
		p.repeating[staff] = len(p.repeats)
	}
	return p.count(1)
}

// fillRepeats writes out the measures that a sign stands for. Those that hold
// notes keep them: many programs store what is to sound under the sign.
func (p *part) fillRepeats() error {
	if len(p.repeats) == 0 {
		return nil
	}
	signs := make([][]repeatSign, len(p.measures))
	for _, r := range p.repeats {
		if r.to < 0 {
			r.to = len(p.measures)
		}
		for m := r.from; m < r.to; m++ {
			if m >= r.size {
				signs[m] = append(signs[m], r)
			}
		}
	}
	f := &filler{p: p, start: make([]int, len(p.measures)+1), place: make([]int, len(p.chords))}
	f.sortLines()
	for k, m := 0, 0; m < len(p.measures); m++ {
		f.start[m] = len(f.chords)
		for ; k < len(p.chords) && p.chords[k].Measure == m; k++ {
			f.place[k] = len(f.chords)
			f.chords = append(f.chords, p.chords[k])
		}
		f.moveLines(m)
		f.start[m+1] = len(f.chords)
		for _, s := range signs[m] {
			f.fill(m, m-s.size, s.staff)
			f.start[m+1] = len(f.chords)
		}
		if p.d.notes > maxNotes {
			return p.r.fail(ErrTooLarge, mendSplit, "the piece has more than {n} notes", "{n}", strconv.Itoa(maxNotes))
		}
	}
	f.finish()
	return nil
}

// filler builds the list of chords anew, measure by measure.
type filler struct {
	p      *part
	chords []chord
	start  []int // of each measure in chords
	place  []int // from old index to new
	// slurs and tuplets that lie within one measure, by measure; their ends
	// are new indexes once the measure is reached.
	slurs   [][]score.Slur
	tuplets [][]score.Tuplet
}

// sortLines takes the lines that lie within a measure out of the part's lists.
func (f *filler) sortLines() {
	p := f.p
	f.slurs, f.tuplets = make([][]score.Slur, len(p.measures)), make([][]score.Tuplet, len(p.measures))
	p.slurs = slices.DeleteFunc(p.slurs, func(s score.Slur) bool {
		m := p.chords[s.From].Measure
		if p.chords[s.To].Measure != m {
			return false
		}
		f.slurs[m] = append(f.slurs[m], s)
		return true
	})
	p.tuplets = slices.DeleteFunc(p.tuplets, func(t score.Tuplet) bool {
		m := p.chords[t.From].Measure
		if t.To < 0 || p.chords[t.To].Measure != m {
			return false
		}
		f.tuplets[m] = append(f.tuplets[m], t)
		return true
	})
}

func (f *filler) moveLines(m int) {
	for i := range f.slurs[m] {
		s := &f.slurs[m][i]
		s.From, s.To = f.place[s.From], f.place[s.To]
	}
	for i := range f.tuplets[m] {
		t := &f.tuplets[m][i]
		t.From, t.To = f.place[t.From], f.place[t.To]
	}
}

// fill copies what a staff holds from one measure to a later one that holds
// no notes on it.
func (f *filler) fill(to, from, staff int) {
	p := f.p
	on := func(c *chord) bool { return !c.drop && (staff == 0 || c.Staff == staff) }
	here := f.chords[f.start[to]:f.start[to+1]]
	if slices.ContainsFunc(here, func(c chord) bool { return on(&c) && len(c.Notes) > 0 }) {
		return
	}
	copied := map[int]int{}
	for k := f.start[from]; k < f.start[from+1]; k++ {
		if c := &f.chords[k]; on(c) {
			copied[k] = len(f.chords) + len(copied)
		}
	}
	if len(copied) == 0 {
		return
	}
	for k := range here {
		if on(&here[k]) {
			here[k].drop = true // its rest
		}
	}
	for k := f.start[from]; k < f.start[from+1]; k++ {
		if _, taken := copied[k]; taken {
			c := f.chords[k].again(to, p.measures[from].Length)
			p.measures[to].Length = p.measures[to].Length.Max(c.End())
			p.d.notes += len(c.Notes)
			f.chords = append(f.chords, c)
		}
	}
	p.d.warnings.Add(p.in(p.measures[to].Number), "a sign that repeats the previous bar is shown written out")
	for _, s := range f.slurs[from] {
		a, okA := copied[s.From]
		b, okB := copied[s.To]
		if okA && okB {
			s.From, s.To = a, b
			f.slurs[to] = append(f.slurs[to], s)
		}
	}
	for _, t := range f.tuplets[from] {
		a, okA := copied[t.From]
		b, okB := copied[t.To]
		if okA && okB {
			t.From, t.To = a, b
			f.tuplets[to] = append(f.tuplets[to], t)
		}
	}
}

// again returns a copy for another measure, without ids and without the ties
// over the bar lines.
func (c *chord) again(measure int, length music.Frac) chord {
	q := *c
	q.Measure, q.after = measure, -1
	q.Notes = slices.Clone(c.Notes)
	for j := range q.Notes {
		n := &q.Notes[j]
		n.ID = ""
		n.TieStop = n.TieStop && !c.Onset.IsZero()
		n.TieStart = n.TieStart && c.End().Less(length)
	}
	q.hidden, q.Signs, q.Artic, q.Beams = slices.Clone(c.hidden), slices.Clone(c.Signs), slices.Clone(c.Artic), slices.Clone(c.Beams)
	if c.Grace != nil {
		g := *c.Grace
		q.Grace = &g
	}
	return q
}

// finish hands the new lists to the part.
func (f *filler) finish() {
	p := f.p
	for k := range f.chords {
		if c := &f.chords[k]; c.after >= 0 {
			c.after = f.place[c.after]
		}
	}
	for i := range p.slurs {
		s := &p.slurs[i]
		s.From, s.To = f.place[s.From], f.place[s.To]
	}
	for i := range p.tuplets {
		t := &p.tuplets[i]
		if t.From = f.place[t.From]; t.To >= 0 {
			t.To = f.place[t.To]
		}
	}
	for m := range f.slurs {
		p.slurs = append(p.slurs, f.slurs[m]...)
		p.tuplets = append(p.tuplets, f.tuplets[m]...)
	}
	p.chords = f.chords
}
