package engrave

import (
	"math"

	"agremens/assets/font"
	"agremens/realize"
	"agremens/realize/score"
)

// Page breaks the passage into systems of the given width in staff spaces and
// justifies them; the last is left short where it would be stretched. The
// left edge of the staves is x 0, the first system's upper staff stands with
// its top line at y 0.
func Page(p *score.Passage, r *realize.Reading, width float64, o Options) *Layout {
	from, to := bounds(p, o)
	if to <= from {
		return &Layout{}
	}
	marks := ornaments(r)
	whole := newEngraver(p, from, to, marks, o.yield)
	if o.Played && r != nil {
		whole.lines = playedLines(p, r, from, to, nil, o.Open, o.yield)
	}
	breaks := whole.breaks(width)
	l := &Layout{}
	bottom := 0.0
	var spent engraver // whose memory the next system takes over
	for i := range len(breaks) - 1 {
		e := newEngraver(p, breaks[i], breaks[i+1], marks, o.yield)
		e.out, e.hurdles, e.around = spent.out, spent.hurdles, spent.around
		e.metreShown = i == 0
		if o.Played && r != nil {
			within := span{e.start(), e.end(), i == 0}
			e.lines = playedLines(p, r, e.from, e.to, &within, o.Open, o.yield)
		}
		sys := e.system(width, i == len(breaks)-2)
		e.settleStaves(func() {
			e.drawSystem(&sys, 0, sys.Right, 1, e.drawStart)
		})
		// Below the system before, as near as the ink allows.
		drop := 0.0
		if i > 0 {
			box := e.inkBox()
			drop = bottom + systemGap - box.Top
		}
		e.drop(drop)
		if i == 0 { // the others will hold about as much
			systems := len(breaks) - 1
			l.Items = make([]Item, 0, len(e.out.items)*systems*5/4)
			l.Spots = make([]Spot, 0, len(e.out.spots)*systems*5/4)
		}
		l.collect(e, &sys)
		spent = *e
		bottom = l.Systems[i].Bottom
		o.yield()
	}
	if o.Title {
		l.title(p, width)
	}
	return l
}

const (
	systemGap = 3.0
	// quarterSpace is the natural space of a quarter note; other values take
	// space by the square root of their length (common practice, no source).
	quarterSpace = 3.6
	// playedPace is how many spaces to the quarter a line as played may ask for:
	// 128ths with their accidentals find room, a cadenza of small notes does not stretch its bar.
	playedPace = 70
)

func ideal(quarters float64) float64 { return quarterSpace * math.Sqrt(quarters) }

// natural returns the columns' least and natural distances from the column
// before.
func (e *engraver) natural() (least, natural []float64) {
	least = e.gaps(e.cols)
	for _, l := range e.lines {
		e.makeRoom(least, l)
	}
	natural = make([]float64, len(least))
	for i := 1; i < len(e.cols); i++ {
		dt := e.cols[i].onset.Sub(e.cols[i-1].onset).Float()
		natural[i] = max(least[i], ideal(dt)+e.cols[i].block*0.6)
	}
	return least, natural
}

// makeRoom widens the distances of printed columns so that the line as played
// between them finds its room.
func (e *engraver) makeRoom(least []float64, l *line) {
	need := l.e.gaps(l.e.cols)
	at := 1
	for i := 1; i < len(need); i++ {
		from, to := l.e.cols[i-1].onset, l.e.cols[i].onset
		rate := min(need[i]*playedScale/to.Sub(from).Float(), playedPace)
		for at > 1 && from.Less(e.cols[at-1].onset) {
			at--
		}
		for at < len(e.cols)-1 && e.cols[at].onset.Cmp(from) <= 0 {
			at++
		}
		// What comes before the first column takes the pace of what follows it.
		for j := at; j < len(e.cols) && (j == at || e.cols[j-1].onset.Less(to)); j++ {
			least[j] = max(least[j], rate*e.cols[j].onset.Sub(e.cols[j-1].onset).Float())
		}
	}
}

// breaks chooses the measures at which systems start, with the least sum of
// squared stretch; the last entry is the end of the range.
func (e *engraver) breaks(width float64) []int {
	least, natural := e.natural()
	n := e.to - e.from
	minimum, wish := make([]float64, n), make([]float64, n)
	m := -1
	for i := range e.cols {
		if i > 0 && m >= 0 {
			minimum[m] += least[i]
			wish[m] += natural[i]
		}
		if e.cols[i].measure >= 0 {
			m = e.cols[i].measure - e.from
		}
	}
	cost, back := make([]float64, n+1), make([]int, n+1)
	for j := 1; j <= n; j++ {
		cost[j] = math.Inf(1)
		lo, w := 0.0, 0.0
		for i := j - 1; i >= 0; i-- {
			lo, w = lo+minimum[i], w+wish[i]
			room := width - e.headWidth(e.from+i, i == 0) - 2 - e.courtesyAt(e.from+j).width()
			if lo > room && i < j-1 {
				break
			}
			stretch := (room - w) / w
			if stretch < 0 {
				stretch *= 2
			}
			bad := stretch * stretch
			if j == n && stretch > 0 {
				bad = min(bad, 0.05) // a short last line is no fault
			}
			if c := cost[i] + bad + 0.02; c < cost[j] {
				cost[j], back[j] = c, i
			}
		}
	}
	var out []int
	for j := n; ; j = back[j] {
		out = append([]int{e.from + j}, out...)
		if j == 0 {
			return out
		}
	}
}

// headWidth is the width of clef and key, and the metre where shown.
func (e *engraver) headWidth(measure int, metre bool) float64 {
	m := &e.p.Measures[measure]
	w := 0.6 + width(font.GClef) + 0.7
	if m.Key.Fifths != 0 {
		w += keyWidth(m.Key, m.Key) + 0.7
	}
	if metre && m.Metre.Unit > 0 {
		w += metreWidth(m.Metre) + 0.7
	}
	return w
}

// system gives the columns of one system their x.
func (e *engraver) system(width float64, last bool) System {
	least, natural := e.natural()
	start := e.headWidth(e.from, e.showsMetre()) + max(1.1, e.cols[0].notes+0.35)
	if e.cols[0].block > 0 {
		start += e.cols[0].block
	}
	extra := e.courtesyAt(e.to).width()
	room := width - start - extra
	total := 0.0
	for _, w := range natural {
		total += w
	}
	sum := func(f float64) float64 {
		s := 0.0
		for i := 1; i < len(natural); i++ {
			s += max(least[i], natural[i]*f)
		}
		return s
	}
	factor := 1.0
	if !last || total > room || total > room*0.75 {
		lo, hi := 0.0, 4.0
		for hi < 64 && sum(hi) < room {
			hi *= 2
		}
		for range 50 {
			factor = (lo + hi) / 2
			if sum(factor) > room {
				hi = factor
			} else {
				lo = factor
			}
		}
	}
	// Where there is too little room everything gets closer but small notes:
	// they would run out of the system.
	squeeze, small := 1.0, make([]float64, len(natural))
	if s := sum(factor); s > room {
		fixed := 0.0
		for i := 1; i < len(natural); i++ {
			small[i] = min(e.cols[i].smallNotes(), max(least[i], natural[i]*factor))
			fixed += small[i]
		}
		squeeze = max(0, (room-fixed)/(s-fixed))
	}
	sys := System{From: e.from, To: e.to, Start: e.start().Float(), End: e.end().Float()}
	x := start
	for i := range e.cols {
		if i > 0 {
			x += small[i] + (max(least[i], natural[i]*factor)-small[i])*squeeze
		}
		sys.columns = append(sys.columns, column{e.cols[i].onset.Float(), x})
	}
	sys.Right = x - blackHead()/2
	if end := &e.cols[len(e.cols)-1]; !end.ends || len(end.chords) > 0 {
		sys.Right = x
	}
	sys.bar = sys.Right
	sys.Right += extra
	at := sys
	e.place(func(t float64) float64 { return at.at(t) })
	return sys
}

func (e *engraver) showsMetre() bool {
	return e.metreShown || e.from > 0 && e.p.Measures[e.from-1].Metre != e.p.Measures[e.from].Metre
}

// drawStart draws what is at the left of a system: the line that joins
// the staves, the brace, clefs, key and metre.
func (e *engraver) drawStart() {
	e.drawHead(e.start(), 0, e.showsMetre())
	n := len(e.staves)
	if n < 2 {
		return
	}
	top, bottom := e.staves[0].y-2, e.staves[n-1].y+2
	w := font.Defaults.ThinBarlineThickness
	e.line(w/2, top, w/2, bottom, w)
	mid := (top + bottom) / 2
	for _, end := range [2]float64{top, bottom} {
		d := end - mid
		e.draw(Item{Kind: KindCurve, X: -0.35, Y: end, C1X: -1.75, C1Y: end - d*0.25, C2X: 0.15, C2Y: mid + d*0.3, X2: -1.35, Y2: mid, W: 0.62, W2: 0.08})
	}
}

// inkBox is the extent of what is drawn.
func (e *engraver) inkBox() Box {
	box := Box{0, e.staves[0].y - 2, 0, e.staves[len(e.staves)-1].y + 2}
	for i := range e.out.items {
		box = box.union(e.out.items[i].Bounds())
	}
	return box
}

// drop moves everything drawn down.
func (e *engraver) drop(dy float64) {
	if dy == 0 {
		return
	}
	for i := range e.out.items {
		e.out.items[i] = e.out.items[i].placed(1, 0, dy)
	}
	for i := range e.out.spots {
		e.out.spots[i].Box = e.out.spots[i].Box.placed(1, 0, dy)
	}
	for s := range e.staves {
		e.staves[s].y += dy
	}
	e.dropped = dy
}
