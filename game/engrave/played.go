package engrave

import (
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// playedScale is the size of the line as played beside the printed staff.
const playedScale = 0.7

// line is the line as played above one staff: the chosen realizations,
// written out as a passage of their own.
type line struct {
	e        *engraver
	staff    int // of the printed passage
	segments []segment
	index    map[int]int // chord index → index in the choice's notes
}

// segment is the stretch of one ornament.
type segment struct {
	ornament   string
	start, end music.Frac
}

// span is a half-open stretch of time. Of the first one, small notes that sound
// before it are part: there is no system before.
type span struct {
	from, to music.Frac
	first    bool
}

// playedLines writes out the ornaments of some measures that are open, staff
// by staff. Of what sounds outside within, nothing is written, and what an
// ornament of other measures plays inside it is; nil keeps all of each.
func playedLines(p *score.Passage, r *realize.Reading, from, to int, within *span, open map[string]bool, yield func()) []*line {
	var lines []*line
	for s := range max(1, p.Staves) {
		l := &line{staff: s, index: map[int]int{}}
		q := &score.Passage{Staves: 1, Measures: p.Measures}
		for _, c := range p.Clefs {
			if c.Staff == s+1 {
				c.Staff = 1
				q.Clefs = append(q.Clefs, c)
			}
		}
		if len(q.Clefs) == 0 && s > 0 {
			q.Clefs = []score.Clef{{Staff: 1, Sign: "F", Line: 4}}
		}
		ornament := map[int]string{}
		for i := range r.Ornaments {
			o := &r.Ornaments[i]
			if o.Staff != s+1 || o.Chosen >= len(o.Choices) || open != nil && !open[o.ID] {
				continue
			}
			if (o.Measure < from || o.Measure >= to) && (within == nil || !sounds(o, within)) {
				continue
			}
			l.write(q, p, o, within, ornament, from, to)
			yield()
		}
		if len(q.Chords) == 0 {
			continue
		}
		l.sort(q, ornament)
		e := &engraver{p: q, from: from, to: to, ornament: ornament, layer: LayerPlayed, played: true, pause: yield}
		e.staves = make([]staff, 1)
		e.clefs = [][]score.Clef{q.Clefs}
		e.prepare()
		e.playedIndex = l.index
		l.e = e
		lines = append(lines, l)
	}
	return lines
}

// sounds reports whether an ornament's chosen notes begin within a span, or
// are held into it.
func sounds(o *realize.Ornament, within *span) bool {
	for _, n := range o.Choices[o.Chosen].Notes {
		at := o.Onset.Add(n.Onset)
		if at.Less(within.to) && within.from.Less(at.Add(n.Dur)) {
			return true
		}
	}
	return false
}

// write appends an ornament's chosen notes as chords with legal values.
func (l *line) write(q, p *score.Passage, o *realize.Ornament, within *span, ornament map[int]string, from, to int) {
	choice, origin := atBars(&o.Choices[o.Chosen], p, o)
	chords, index, tuplets := writeOut(choice, o)
	for i := range index {
		index[i] = origin[index[i]]
	}
	spell(chords, p, o)
	if within != nil {
		early := within.first && o.Measure >= from
		chords, index, tuplets = inside(chords, index, tuplets, within, early)
	}
	if len(chords) == 0 {
		return
	}
	seg := segment{o.ID, chords[0].Onset, chords[len(chords)-1].End()}
	for i := range chords {
		c := &chords[i]
		at := len(q.Chords)
		c.Staff, c.Voice = 1, "played "+o.ID
		c.Measure = min(max(p.MeasureAt(c.Onset), from), to-1)
		ornament[at] = o.ID
		l.index[at] = index[i]
		q.Chords = append(q.Chords, *c)
	}
	base := len(q.Chords) - len(chords)
	for _, t := range tuplets {
		t.From, t.To = t.From+base, t.To+base
		q.Tuplets = append(q.Tuplets, t)
	}
	l.segments = append(l.segments, seg)
}

// sort orders the chords by onset and keeps the side tables in step.
func (l *line) sort(q *score.Passage, ornament map[int]string) {
	order := make([]int, len(q.Chords))
	for i := range order {
		order[i] = i
	}
	sorting.Stable(order, func(a, b int) int { return q.Chords[a].Onset.Cmp(q.Chords[b].Onset) })
	place := make([]int, len(order))
	chords := make([]score.Chord, len(order))
	orn, index := map[int]string{}, map[int]int{}
	for to, from := range order {
		place[from] = to
		chords[to] = q.Chords[from]
		orn[to], index[to] = ornament[from], l.index[from]
	}
	q.Chords, l.index = chords, index
	for i := range q.Tuplets {
		q.Tuplets[i].From, q.Tuplets[i].To = place[q.Tuplets[i].From], place[q.Tuplets[i].To]
	}
	for i := range ornament {
		ornament[i] = orn[i]
	}
}

// spell gives each note the accidental a reader needs who has the signature
// and the printed bar so far in mind.
func spell(chords []score.Chord, p *score.Passage, o *realize.Ornament) {
	key := p.KeyAt(o.Onset)
	state := map[int]int8{}   // letter and octave → alteration in force in this stretch
	printed := map[int]int8{} // what the printed bar has said before it
	m := &p.Measures[o.Measure]
	for i := p.FirstAt(m.Onset); i < len(p.Chords) && p.Chords[i].Onset.Less(o.Onset); i++ {
		for _, n := range p.Chords[i].Notes {
			if n.Accidental != "" {
				printed[n.Pitch.Diatonic()] = n.Pitch.Alter
			}
		}
	}
	for i := range chords {
		for j := range chords[i].Notes {
			n := &chords[i].Notes[j]
			d := n.Pitch.Diatonic()
			want, seen := state[d]
			if !seen {
				want = int8(key.Alter(n.Pitch.Step))
				if was, ok := printed[d]; ok && was != n.Pitch.Alter {
					want = was
				}
			}
			state[d] = n.Pitch.Alter
			if n.TieStop || want == n.Pitch.Alter {
				continue
			}
			n.Accidental = map[int8]string{-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}[n.Pitch.Alter]
		}
	}
}

// draw draws the line above its printed staff and returns its staff's y.
func (l *line) draw(host *engraver, left, right float64, page bool) float64 {
	e := l.e
	e.out = sink{}
	e.hurdles = e.hurdles[:0]
	e.staves[0].y = 0
	e.staves[0].sky = newSkyline(left/playedScale, right/playedScale)
	e.place(func(t float64) float64 { return host.x(t) / playedScale })
	if page {
		e.spread((left+4.5)/playedScale, (right-4.5)/playedScale)
	}
	e.drawColumns(0, len(e.cols), 1)
	type stretch struct{ x0, x1 float64 }
	spans := make([]stretch, len(l.segments))
	y := host.staves[l.staff].y - 2 - 2*playedScale - 2
	for i, s := range l.segments {
		x0 := host.x(s.start.Float()) - 1.5
		if k := e.colAt(s.start); k.onset == s.start {
			x0 = min(x0, (k.x-k.notes)*playedScale-0.5)
		}
		x1 := host.x(s.end.Float()) - 0.4
		for j := range e.chords { // moved ones
			if c := &e.chords[j]; c.ornament == s.ornament {
				x0 = min(x0, (c.x-c.left)*playedScale-0.5)
				x1 = max(x1, (c.x+c.right)*playedScale+0.5)
			}
		}
		if last := (host.x(s.end.Float()) - 1); x1 < last {
			x1 = last
		}
		spans[i] = stretch{x0, x1}
		for _, it := range e.staffLines(x0/playedScale, x1/playedScale) {
			it.Ornament = s.ornament
			e.out.items = append(e.out.items, it)
		}
		low := e.staves[0].sky.below(x0/playedScale, x1/playedScale) * playedScale
		y = min(y, host.aboveBeams(l.staff, x0, x1)-1.0-low)
	}
	for _, it := range e.out.items {
		host.out.items = append(host.out.items, it.placed(playedScale, 0, y))
	}
	for _, s := range e.out.spots {
		s.Box = s.Box.placed(playedScale, 0, y)
		host.out.spots = append(host.out.spots, s)
	}
	for _, s := range spans {
		top := e.staves[0].sky.above(s.x0/playedScale, s.x1/playedScale) * playedScale
		host.cover(l.staff, Box{s.x0, y + top, s.x1, y + 2*playedScale})
	}
	return y
}

// aboveBeams returns the y above everything on a staff between two x but
// beams across the staves: a line above these would stand among the notes of the
// upper staff.
func (e *engraver) aboveBeams(s int, x0, x1 float64) float64 {
	y := e.staves[s].y - 2
	for i := range e.groups {
		g := &e.groups[i]
		first, last := &e.chords[g.chords[0]], &e.chords[g.chords[len(g.chords)-1]]
		left, right := first.x-first.left-0.5, last.x+last.right+0.5
		if !g.mixed || right < x0 || left > x1 || !e.across(g) {
			continue
		}
		if left > x0 {
			y = min(y, e.above(s, x0, left))
		}
		x0 = max(x0, right)
	}
	if x0 < x1 {
		y = min(y, e.above(s, x0, x1))
	}
	return y
}

// across reports whether a group's heads stand on two staves.
func (e *engraver) across(g *group) bool {
	staff := e.chords[g.chords[0]].topHead().staff
	for _, i := range g.chords {
		for j := range e.chords[i].heads {
			if e.chords[i].heads[j].staff != staff {
				return true
			}
		}
	}
	return false
}

// spread moves columns that stand closer than their heads allow into the free
// room before and after them, between two x: a cadenza of small notes sounds in
// less time than it takes room, and a termination may sound after the last column.
func (e *engraver) spread(left, right float64) {
	need := e.gaps(e.cols)
	tight, sum := false, 0.0
	for i := 1; i < len(need); i++ {
		sum += need[i]
		tight = tight || e.cols[i].x-e.cols[i-1].x < need[i]-0.1
	}
	if n := len(e.cols); !tight && (n == 0 || e.cols[n-1].x <= right) {
		return
	}
	shrink := min(1, max(0, right-left)/sum)
	last := right
	for i := len(e.cols) - 1; i >= 0; i-- {
		e.cols[i].x = min(e.cols[i].x, last)
		last = e.cols[i].x - need[i]*shrink
	}
	first := left
	for i := range e.cols {
		k := &e.cols[i]
		if i > 0 {
			first = e.cols[i-1].x + need[i]*shrink
		}
		k.x = max(k.x, first)
		for _, list := range [3][]int{k.chords, k.graces, k.after} {
			for _, j := range list {
				e.chords[j].x = k.x + e.chords[j].dx
			}
		}
	}
}
