package engrave

import (
	"math"
	"slices"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
)

// Run lays out one endless system in which x is strictly proportional to
// time, so that it can scroll evenly: x 0 is the start of the first measure,
// and the middle of a note head stands at its onset. The y of the upper
// staff's top line is 0.
//
// r may be nil: then nothing is said of ornaments and no played line drawn.
func Run(p *score.Passage, r *realize.Reading, o Options) *Layout {
	from, to := bounds(p, o)
	if to <= from {
		return &Layout{}
	}
	e := newEngraver(p, from, to, ornaments(r), o.yield)
	if o.Played && r != nil {
		e.lines = playedLines(p, r, from, to, nil, o.Open, o.yield)
	}
	pace := o.PerQuarter
	if pace <= 0 {
		needs := e.paces(1)
		for _, l := range e.lines {
			needs = append(needs, l.e.paces(playedScale)...)
		}
		tempo := 0.0
		if r != nil {
			tempo = r.Tempo
		}
		pace = choosePace(needs, tempo)
	}
	e.tighten(pace)
	for _, l := range e.lines {
		l.e.tighten(pace / playedScale)
	}
	start := e.start().Float()
	e.place(func(t float64) float64 { return (t - start) * pace })
	first := &e.cols[0]
	left := -first.notes - first.block - 1.2
	for _, l := range e.lines {
		for _, s := range l.segments {
			left = min(left, e.x(s.start.Float())-2.5)
		}
	}
	right := e.x(e.end().Float()) - blackHead()/2
	for _, l := range e.lines {
		for _, s := range l.segments {
			right = max(right, e.x(s.end.Float()))
		}
	}
	l := &Layout{PerQuarter: pace}
	sys := System{From: from, To: to, Start: start, End: e.end().Float(), Left: left, Right: right, perQuarter: pace}
	e.settleStaves(func() { e.drawSystem(&sys, left, right, 0.8, nil) })
	l.collect(e, &sys)
	e.heads(l)
	return l
}

func bounds(p *score.Passage, o Options) (from, to int) {
	from, to = max(0, o.From), o.To
	if to <= 0 || to > len(p.Measures) {
		to = len(p.Measures)
	}
	return from, to
}

// ornaments maps chords to the ornament that stands on or before them.
func ornaments(r *realize.Reading) map[int]string {
	out := map[int]string{}
	if r == nil {
		return out
	}
	for i := range r.Ornaments {
		o := &r.Ornaments[i]
		if _, taken := out[o.Ref.Chord]; !taken {
			out[o.Ref.Chord] = o.ID
		}
		for _, g := range o.Graces {
			out[g] = o.ID
		}
	}
	return out
}

// staffGap is the least free space between the ink of two staves, and
// minApart the least distance of their middle lines.
const (
	staffGap = 1.2
	minApart = 8.5
)

// settleStaves draws with the staves at a first distance, finds the one at
// which nothing touches, and draws again with that.
func (e *engraver) settleStaves(draw func()) {
	for s := range e.staves {
		e.staves[s].y = 2 + float64(s)*minApart
	}
	draw()
	moved := false
	shift := 0.0
	for s := 1; s < len(e.staves); s++ {
		d := max(minApart, apart(&e.staves[s-1].sky, &e.staves[s].sky, staffGap))
		shift += d
		if y := 2 + shift; math.Abs(y-e.staves[s].y) > 1e-9 {
			e.staves[s].y = y
			moved = true
		}
	}
	if moved {
		draw()
	}
}

// drawSystem draws all columns as one system; start is what comes before
// them, if anything.
func (e *engraver) drawSystem(sys *System, left, right, signatures float64, start func()) {
	e.out = sink{items: e.out.items[:0], spots: e.out.spots[:0]}
	e.hurdles, e.crossing = e.hurdles[:0], e.crossing[:0]
	for s := range e.staves {
		e.staves[s].sky = newSkyline(left-4, right+4)
	}
	e.drawStaffLines(left, right)
	if start != nil {
		start()
	}
	e.drawColumns(0, len(e.cols), signatures)
	e.drawNumbers(start != nil)
	sys.PlayedStaves = make([]float64, len(e.staves))
	for _, l := range e.lines {
		sys.PlayedStaves[l.staff] = l.draw(e, left-4, right+4, start != nil)
	}
	if start != nil {
		e.drawCourtesy(sys.bar)
	}
	e.drawMarks(e.p.Measures[sys.From].Onset, e.p.Measures[sys.To-1].End(), right)
	e.drawVoltas(sys.From, sys.To, right)
	e.drawJumps(right)
}

// heads draws the clefs, key and metre at the start of a run and wherever they
// change, all as wide as the widest.
func (e *engraver) heads(l *Layout) {
	saved := e.out
	draw := func(at music.Frac) ([]Item, float64) {
		e.out = sink{}
		for s := range e.staves {
			e.staves[s].sky = newSkyline(0, 1)
		}
		w := e.drawHead(at, 0, true)
		return e.out.items, w
	}
	l.Head, l.HeadWidth = draw(e.start())
	for i := range e.cols {
		if k := &e.cols[i]; len(k.clefs) > 0 || k.key != nil || k.metre != nil {
			items, w := draw(k.onset)
			l.HeadWidth = max(l.HeadWidth, w)
			l.Heads = append(l.Heads, Head{k.onset.Float(), items})
		}
	}
	e.out = sink{}
	e.drawStaffLines(0, l.HeadWidth)
	lines := e.out.items
	l.Head = append(slices.Clone(lines), l.Head...)
	for i := range l.Heads {
		l.Heads[i].Items = append(slices.Clone(lines), l.Heads[i].Items...)
	}
	e.out = saved
}

// collect takes a finished system into the layout.
func (l *Layout) collect(e *engraver, sys *System) {
	for s := range e.staves {
		sys.Staves = append(sys.Staves, e.staves[s].y)
	}
	box := Box{sys.Left, e.staves[0].y - 2, sys.Right, e.staves[len(e.staves)-1].y + 2}
	for s, y := range sys.PlayedStaves {
		if y != 0 {
			sys.PlayedStaves[s] = y + e.dropped
		}
	}
	sys.items[0] = len(l.Items)
	// In the order of layers.
	for layer := LayerStaff; layer <= LayerMark; layer++ {
		for i := range e.out.items {
			if it := &e.out.items[i]; it.Layer == layer {
				l.Items = append(l.Items, *it)
				box = box.union(it.Bounds())
			}
		}
	}
	for i := range e.cols {
		if k := &e.cols[i]; k.measure >= 0 {
			sys.measures = append(sys.measures, k.x-k.notes-barPad)
		}
	}
	index := len(l.Systems)
	for _, s := range e.out.spots {
		s.System = index
		l.Spots = append(l.Spots, s)
	}
	sys.items[1] = len(l.Items)
	sys.Top, sys.Bottom = box.Top, box.Bottom
	l.Systems = append(l.Systems, *sys)
	if index == 0 {
		l.Left, l.Right, l.Top, l.Bottom = box.Left, box.Right, box.Top, box.Bottom
		return
	}
	all := Box{l.Left, l.Top, l.Right, l.Bottom}.union(box)
	l.Left, l.Right, l.Top, l.Bottom = all.Left, all.Right, all.Top, all.Bottom
}
