package engrave

import (
	"math"

	"agremens/assets/font"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// group is a run of chords under one beam.
type group struct {
	chords []int          // places in chords
	levels [][]score.Beam // of each chord
	// The beam's outer line, y = y0 + slope·(x - x0), and which way its
	// secondary beams go from it (1 down the page).
	x0, y0, slope float64
	mixed         bool // stems on both sides
	crosses       bool // heads on more than one staff
}

// group finds the beams: the file's where it gives any, else by metre.
func (e *engraver) group() {
	given := false
	for i := range e.chords {
		given = given || len(e.chords[i].src.Beams) > 0
	}
	open := map[string]*group{}
	finish := func(key string) {
		if g := open[key]; g != nil {
			e.addGroup(*g, given)
			delete(open, key)
		}
	}
	for i := range e.chords {
		c := &e.chords[i]
		if c.src.Grace == nil && (c.rest() || flags(c.src) == 0) {
			if !given {
				finish(c.src.Voice)
			}
			continue
		}
		if c.rest() || flags(c.src) == 0 {
			continue
		}
		key := c.src.Voice
		if c.grace() {
			key += " small"
		}
		if given {
			if len(c.src.Beams) == 0 {
				continue
			}
			switch c.src.Beams[0] {
			case score.BeamBegin:
				finish(key)
				open[key] = &group{chords: []int{i}}
			case score.BeamContinue, score.BeamEnd:
				if g := open[key]; g != nil {
					g.chords = append(g.chords, i)
					if c.src.Beams[0] == score.BeamEnd {
						finish(key)
					}
				}
			}
			continue
		}
		if g := open[key]; g != nil {
			last := &e.chords[g.chords[len(g.chords)-1]]
			if !e.together(last, c) {
				finish(key)
			}
		}
		if open[key] == nil {
			open[key] = &group{}
		}
		open[key].chords = append(open[key].chords, i)
	}
	var rest []*group
	for _, g := range open {
		rest = append(rest, g)
	}
	sorting.Stable(rest, func(a, b *group) int { return a.chords[0] - b.chords[0] })
	for _, g := range rest {
		e.addGroup(*g, given)
	}
}

// together reports whether two neighbours of a voice share a beam by metre.
func (e *engraver) together(a, b *chord) bool {
	if a.grace() {
		return a.src.Onset == b.src.Onset
	}
	if a.src.End() != b.src.Onset || a.src.Measure != b.src.Measure {
		return false
	}
	m := &e.p.Measures[b.src.Measure]
	return beatOf(m, a.src.Onset) == beatOf(m, b.src.Onset)
}

// beatOf counts beats from the end of the measure's metre, so that an upbeat
// counts right.
func beatOf(m *score.Measure, onset music.Frac) int64 {
	beat := m.Metre.Beat()
	at := onset.Sub(m.Onset)
	if m.Implicit && m.Length.Less(m.Metre.Bar()) {
		at = at.Add(m.Metre.Bar()).Sub(m.Length)
	}
	return at.Div(beat).Floor()
}

func (e *engraver) addGroup(g group, given bool) {
	if len(g.chords) < 2 {
		return
	}
	g.levels = make([][]score.Beam, len(g.chords))
	most := 0
	for i, ci := range g.chords {
		n := flags(e.chords[ci].src)
		g.levels[i] = make([]score.Beam, n)
		most = max(most, n)
	}
	for level := range most {
		if given && e.fileLevel(&g, level) {
			continue
		}
		e.metreLevel(&g, level)
	}
	dir := e.groupDirection(&g)
	if dir == 0 && e.tangled(&g) {
		dir = e.leaning(&g)
	}
	if dir != 0 && e.runsInto(&g, dir) && !e.runsInto(&g, -dir) {
		dir = -dir
	}
	for _, ci := range g.chords {
		c := &e.chords[ci]
		g.crosses = g.crosses || c.topHead().staff != e.chords[g.chords[0]].bottomHead().staff || c.topHead().staff != c.bottomHead().staff
		c.group = len(e.groups)
		if dir != 0 {
			c.dir = dir
		} else if c.dir != e.chords[g.chords[0]].dir {
			g.mixed = true
		}
	}
	e.groups = append(e.groups, g)
}

// runsInto reports whether another voice of the staff lies on the side a
// group's stems point to, its own stems pointing the same way: beams would run
// through its heads. Files point both so where they split octaves into voices.
func (e *engraver) runsInto(g *group, dir int) bool {
	last := g.chords[len(g.chords)-1]
	end := e.chords[last].src.Onset
	near := 0 // the place in the group of the chord that sounds with o
	for i := e.firstWith(g.chords[0]); i < len(e.chords) && e.chords[i].src.Onset.Cmp(end) <= 0; i++ {
		for near+1 < len(g.chords) && e.chords[g.chords[near+1]].src.Onset.Cmp(e.chords[i].src.Onset) <= 0 {
			near++
		}
		c, o := &e.chords[g.chords[near]], &e.chords[i]
		if c.grace() || o.rest() || o.grace() || o.staff != c.staff || o.src.Voice == c.src.Voice || o.dir != dir {
			continue
		}
		if dir < 0 && o.topHead().pos < c.bottomHead().pos-1 || dir > 0 && o.bottomHead().pos > c.topHead().pos+1 {
			return true
		}
	}
	return false
}

// firstWith returns the first place in chords that starts with a chord.
func (e *engraver) firstWith(i int) int {
	for i > 0 && e.chords[i-1].src.Onset == e.chords[i].src.Onset {
		i--
	}
	return i
}

// fileLevel takes a beam level from the file; it reports false where the file
// leaves it to us.
func (e *engraver) fileLevel(g *group, level int) bool {
	for i, ci := range g.chords {
		b := e.chords[ci].src.Beams
		if level >= len(g.levels[i]) {
			continue
		}
		if level >= len(b) || b[level] == score.BeamNone {
			return false
		}
		g.levels[i][level] = b[level]
	}
	return true
}

// metreLevel joins neighbours that carry a level; from the second level on the
// beam breaks at half beats (quarters for slow values).
func (e *engraver) metreLevel(g *group, level int) {
	has := func(i int) bool { return i >= 0 && i < len(g.chords) && level < len(g.levels[i]) }
	joined := func(i int) bool { // i with i+1
		if !has(i) || !has(i+1) {
			return false
		}
		if level < 2 {
			return true
		}
		a, b := &e.chords[g.chords[i]], &e.chords[g.chords[i+1]]
		if a.grace() {
			return true
		}
		half := music.F(1, 2)
		start := e.p.Measures[b.src.Measure].Onset
		return a.src.Onset.Sub(start).Div(half).Floor() == b.src.Onset.Sub(start).Div(half).Floor()
	}
	for i := range g.chords {
		if !has(i) {
			continue
		}
		before, after := i > 0 && joined(i-1), joined(i)
		switch {
		case before && after:
			g.levels[i][level] = score.BeamContinue
		case before:
			g.levels[i][level] = score.BeamEnd
		case after:
			g.levels[i][level] = score.BeamBegin
		case i == 0:
			g.levels[i][level] = score.BeamForwardHook
		case i == len(g.chords)-1:
			g.levels[i][level] = score.BeamBackwardHook
		default:
			// Toward the note it completes the beat with: the longer neighbour.
			g.levels[i][level] = score.BeamBackwardHook
			if len(g.levels[i-1]) > level || e.chords[g.chords[i-1]].src.Dur.Less(e.chords[g.chords[i+1]].src.Dur) {
				g.levels[i][level] = score.BeamForwardHook
			}
		}
	}
}

// groupDirection returns the common stem direction, or 0 where the file or
// the staves want both.
func (e *engraver) groupDirection(g *group) int {
	low, high := math.MaxInt, math.MinInt
	up, down, staff := 0, 0, -1
	for _, ci := range g.chords {
		c := &e.chords[ci]
		switch c.src.Stem {
		case score.StemUp:
			up++
		case score.StemDown:
			down++
		}
		for _, h := range c.heads {
			if staff >= 0 && h.staff != staff {
				staff = len(e.staves)
			} else if staff < 0 {
				staff = h.staff
			}
		}
		low, high = min(low, c.bottomHead().pos), max(high, c.topHead().pos)
	}
	first := &e.chords[g.chords[0]]
	switch {
	case up > 0 && down > 0:
		return 0
	case up > 0:
		return 1
	case down > 0:
		return -1
	case staff == len(e.staves):
		// Across the staves: lower staff up, upper staff down.
		for _, ci := range g.chords {
			c := &e.chords[ci]
			c.dir = -1
			if c.topHead().staff > 0 {
				c.dir = 1
			}
		}
		return 0
	case first.voice == 1 || first.grace() && first.voice == 0:
		return 1
	case first.voice == 2:
		return -1
	}
	return lean(low, high)
}

// tangled reports whether the stems of a group on one staff come to its beams
// from both sides with no room for them between the heads: a file may turn the
// stems where a run passes the middle line.
func (e *engraver) tangled(g *group) bool {
	up, down, most := math.MinInt, math.MaxInt, 0 // the highest head of a stem up, the lowest of a stem down
	staff := e.chords[g.chords[0]].staff
	for i, ci := range g.chords {
		c := &e.chords[ci]
		for _, h := range c.heads {
			if h.staff != staff {
				return false
			}
		}
		most = max(most, len(g.levels[i]))
		if c.src.Stem == score.StemUp {
			up = max(up, c.topHead().pos)
		} else {
			down = min(down, c.bottomHead().pos)
		}
	}
	// A space from each head to the beams.
	return float64(down-up)/2 < 3+float64(most-1)*beamGap()
}

// leaning is the common direction of a group whose file wants both: by the
// place on the staff.
func (e *engraver) leaning(g *group) int {
	low, high := math.MaxInt, math.MinInt
	for _, ci := range g.chords {
		c := &e.chords[ci]
		low, high = min(low, c.bottomHead().pos), max(high, c.topHead().pos)
	}
	return lean(low, high)
}

// beamGap is from one beam's edge to the same edge of the next.
func beamGap() float64 { return font.Defaults.BeamThickness + font.Defaults.BeamSpacing }

// shape gives a group its line: the slope follows its outer notes, flattened,
// and every stem keeps its least length.
func (e *engraver) shape(g *group) {
	first, last := &e.chords[g.chords[0]], &e.chords[g.chords[len(g.chords)-1]]
	scale := first.scale
	x0, x1 := e.stemX(first), e.stemX(last)
	g.x0 = x0
	if g.mixed {
		e.shapeMixed(g)
		return
	}
	dir := float64(first.dir)
	// In a frame where the stems point to smaller y: y' = -dir·(-y).
	outer := func(c *chord) float64 { // y of the head nearest the beam, times dir
		if c.dir > 0 {
			return e.headY(c.topHead())
		}
		return -e.headY(c.bottomHead())
	}
	a, b := outer(first), outer(last)
	rise := e.rise(g, a, b, outer) * scale
	g.slope = 0
	if x1 > x0 {
		g.slope = rise / (x1 - x0)
	}
	// The line that leaves every stem its least length.
	y := math.Inf(1)
	for i, ci := range g.chords {
		c := &e.chords[ci]
		least := leastStem(len(g.levels[i])) * scale
		at := outer(c) - least
		// Stems from beyond the staff reach to its middle line.
		if !c.grace() {
			middle := dir * e.staves[c.staff].y
			at = min(at, middle)
		}
		y = min(y, at-g.slope*(e.stemX(c)-x0))
	}
	g.y0 = y * dir
	g.slope *= dir
	if scale == 1 {
		e.settle(g, x1)
		if !e.played {
			e.clearHeads(g, x1)
		}
	}
}

// longestLift is how far a beam may leave its notes for the sake of others.
const longestLift = 4.0

// clearHeads lifts a beam over what stands in its way: accidentals of its own
// notes, heads and accidentals of other voices that reach to it. Where that is
// too far it stays.
func (e *engraver) clearHeads(g *group, x1 float64) {
	const gap = 0.15
	first := &e.chords[g.chords[0]]
	dir := float64(first.dir)
	end := e.chords[g.chords[len(g.chords)-1]].src.Onset
	var boxes []Box
	for i := e.firstWith(g.chords[0]); i < len(e.chords) && e.chords[i].src.Onset.Cmp(end) <= 0; i++ {
		c := &e.chords[i]
		for j := range c.heads {
			h := &c.heads[j]
			if h.staff != first.staff {
				continue
			}
			y := e.headY(h)
			if c.group < 0 || &e.groups[c.group] != g {
				boxes = append(boxes, Box{c.x + h.dx + 0.1, y - 0.5*c.scale, c.x + h.dx + width(h.glyph)*c.scale - 0.1, y + 0.5*c.scale})
			}
			if h.hasAcc {
				for _, b := range layers(h, c.accScale()) {
					boxes = append(boxes, b.placed(1, c.x+h.accX, y))
				}
			}
		}
	}
	lift := 0.0
	for moved := true; moved && lift <= longestLift; {
		moved = false
		for _, b := range boxes {
			lo, hi := max(b.Left, g.x0), min(b.Right, x1)
			if lo > hi {
				continue
			}
			thick := font.Defaults.BeamThickness + float64(e.beamsAt(g, (lo+hi)/2)-1)*beamGap()
			// From its outer edge on, counted toward the stems' ends.
			outer := max(-dir*(g.y0+g.slope*(lo-g.x0)), -dir*(g.y0+g.slope*(hi-g.x0))) + lift
			inner := min(-dir*(g.y0+g.slope*(lo-g.x0)), -dir*(g.y0+g.slope*(hi-g.x0))) + lift - thick
			near, far := -dir*b.Bottom, -dir*b.Top
			if dir < 0 {
				near, far = b.Top, b.Bottom
			}
			if inner < far+gap && outer > near-gap {
				lift += far + gap - inner + 1e-6
				moved = true
			}
		}
	}
	if lift > 0 && lift <= longestLift {
		g.y0 -= dir * lift
	}
}

// beamsAt counts the beams of a group over an x.
func (e *engraver) beamsAt(g *group, x float64) int {
	n := 1
	for i := range g.chords {
		if i > 0 && e.stemX(&e.chords[g.chords[i-1]]) > x+0.1 || i+1 < len(g.chords) && e.stemX(&e.chords[g.chords[i+1]]) < x-0.1 {
			continue
		}
		n = max(n, len(g.levels[i]))
	}
	return n
}

// leastStem is the shortest stem under n beams, outer edge of the beam
// included (common practice: 2½ spaces free under one beam).
func leastStem(n int) float64 {
	switch {
	case n <= 1:
		return 3
	case n == 2:
		return 3.25
	}
	return 3.25 + float64(n-2)*beamGap()
}

// rise returns how far the beam climbs, in the frame where stems point to
// smaller y: a quarter space a step, at most one and a quarter, level where
// an inner note is nearer the beam than both ends.
func (e *engraver) rise(g *group, a, b float64, outer func(*chord) float64) float64 {
	for _, ci := range g.chords[1 : len(g.chords)-1] {
		if y := outer(&e.chords[ci]); y <= min(a, b) && (y < min(a, b) || a != b) {
			return 0
		}
	}
	steps := (b - a) * 2
	n := math.Abs(steps)
	var r float64
	switch {
	case n == 0:
		return 0
	case n <= 1:
		r = 0.25
	case n <= 2:
		r = 0.5
	case n <= 4:
		r = 0.75
	case n <= 6:
		r = 1
	default:
		r = 1.25
	}
	// Close notes take a gentler slope.
	x0, x1 := e.stemX(&e.chords[g.chords[0]]), e.stemX(&e.chords[g.chords[len(g.chords)-1]])
	r = min(r, math.Round((x1-x0)*0.25*4)/4)
	return math.Copysign(r, steps)
}

// settle moves the beam outward so that its ends sit on, straddle or hang
// from a staff line instead of floating between two.
func (e *engraver) settle(g *group, x1 float64) {
	first := &e.chords[g.chords[0]]
	st := e.staves[first.staff].y
	dir := float64(first.dir)
	snap := func(y float64) float64 { // outer edge, y toward the stem end
		// The outer edge may lie ¼ past, ½ past or on a line: in quarters all
		// but ¾ counted outward from a line.
		q := math.Ceil((st-y)*dir*4-1e-6) / 4
		if frac := q - math.Floor(q); frac == 0.75 {
			q += 0.25
		}
		return st - q*dir
	}
	inside := func(y float64) bool { return math.Abs(y-st) < 2.6 }
	y0, y1 := g.y0, g.y0+g.slope*(x1-g.x0)
	if !inside(y0) && !inside(y1) {
		return
	}
	n0 := snap(y0)
	shift := n0 - y0
	g.y0 = n0
	if x1 > g.x0 {
		// Keep the rise in quarters, and the far end off the open space too.
		end := snap(y1 + shift - dir*1e-9)
		if math.Abs(end-(y1+shift)) <= 0.26 && (end-(y1+shift))*dir <= 1e-6 {
			g.slope = (end - n0) / (x1 - g.x0)
		}
	}
}

// shapeMixed lays the beam between stems that come from both sides.
func (e *engraver) shapeMixed(g *group) {
	up, down := math.Inf(1), math.Inf(-1) // nearest heads: of stems up, of stems down
	for _, ci := range g.chords {
		c := &e.chords[ci]
		if c.dir > 0 {
			up = min(up, e.headY(c.topHead()))
		} else {
			down = max(down, e.headY(c.bottomHead()))
		}
	}
	g.slope = 0
	g.y0 = (up + down) / 2
}

// drawBeams draws a group's beams; stems have their tips by then.
func (e *engraver) drawBeams(g *group) {
	first := &e.chords[g.chords[0]]
	scale := first.scale
	thick, gap := font.Defaults.BeamThickness*scale, beamGap()*scale
	inward := float64(first.dir) // from the outer beam toward the heads, down the page for stems up
	half := font.Defaults.StemThickness / 2 * scale
	most := 0
	for _, l := range g.levels {
		most = max(most, len(l))
	}
	at := func(x float64, level int) float64 {
		y := g.y0 + g.slope*(x-g.x0) + inward*gap*float64(level)
		if inward < 0 {
			y -= thick
		}
		return y
	}
	stub := 1.1 * scale
	put := func(x0, x1 float64, level int, id score.ID) {
		it := e.draw(Item{Kind: KindBeam, X: x0 - half, Y: at(x0-half, level), X2: x1 + half, Y2: at(x1+half, level), W: float32(thick), Note: id})
		if first.ornament != "" && first.grace() {
			it.Ornament = first.ornament
			it.Layer = e.signLayer()
		}
		// Steep or long beams are covered piece by piece.
		n := max(1, int((x1-x0)/1.5))
		for k := range n {
			a, b := x0+(x1-x0)*float64(k)/float64(n), x0+(x1-x0)*float64(k+1)/float64(n)
			piece := Box{a, min(at(a, level), at(b, level)), b, max(at(a, level), at(b, level)) + thick}
			e.cover(first.staff, piece)
			if g.crosses {
				e.crossing = append(e.crossing, piece)
			}
		}
	}
	for level := range most {
		begin := -1
		for i, l := range g.levels {
			if level >= len(l) {
				begin = -1
				continue
			}
			c := &e.chords[g.chords[i]]
			x := e.stemX(c)
			switch l[level] {
			case score.BeamBegin:
				begin = i
			case score.BeamEnd:
				if begin >= 0 {
					put(e.stemX(&e.chords[g.chords[begin]]), x, level, c.note())
				}
				begin = -1
			case score.BeamForwardHook:
				reach := stub
				if i+1 < len(g.chords) {
					reach = min(stub, (e.stemX(&e.chords[g.chords[i+1]])-x)*0.45)
				}
				put(x, x+reach, level, c.note())
			case score.BeamBackwardHook:
				reach := stub
				if i > 0 {
					reach = min(stub, (x-e.stemX(&e.chords[g.chords[i-1]]))*0.45)
				}
				put(x-reach, x, level, c.note())
			}
		}
	}
}
