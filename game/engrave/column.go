package engrave

import (
	"agremens/assets/font"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// col is everything that stands at one onset.
type col struct {
	onset   music.Frac
	chords  []int // ordinary chords and rests, places in chords
	graces  []int // small notes before them
	after   []int // small notes that close what ended here
	measure int   // the measure that starts here, -1 none
	ends    bool  // the range ends here
	clefs   []score.Clef
	key     *music.Key   // a change of signature
	was     music.Key    // what the change leaves
	metre   *music.Metre // a change of metre
	// Extents from the column's middle, by staff: of heads, accidentals and
	// small notes.
	left, right []float64
	// block is the width of bar line, signatures and clefs, notes the widest
	// left extent beside which it stands.
	notes, block float64
	x, edge      float64 // edge is where the columns before it end
}

// Paddings in staff spaces (common practice, no source).
const (
	headPad   = 0.35 // between columns
	gracePad  = 0.38
	barPad    = 0.55 // bar line to accidental
	barToHead = 1.0
	barBefore = 0.6 // last head to bar line
	// Around a signature inside a system.
	signPadLeft, signPadRight = 0.6, 0.3
	accidental                = 0.22 // accidental to head
	accToAcc                  = 0.12
)

func blackHead() float64 { return width(font.NoteheadBlack) }

// columns sorts the chords into columns and places everything that stands
// around each column's middle.
func (e *engraver) columns() {
	onsets := e.to - e.from + 1 // of bar lines, and of chords
	for i := range e.chords {
		if i == 0 || e.chords[i].src.Onset != e.chords[i-1].src.Onset {
			onsets++
		}
	}
	e.cols = make([]col, 0, onsets)
	at := make(map[music.Frac]int, onsets)
	find := func(t music.Frac) *col {
		i, ok := at[t]
		if !ok {
			i = len(e.cols)
			at[t] = i
			e.cols = append(e.cols, col{onset: t, measure: -1})
		}
		return &e.cols[i]
	}
	m := e.from
	flush := func(t music.Frac) { // measures and clefs up to and including t
		for ; m < e.to && e.p.Measures[m].Onset.Cmp(t) <= 0; m++ {
			c := find(e.p.Measures[m].Onset)
			c.measure = m
		}
	}
	if !e.played {
		flush(e.start())
	}
	for i := range e.chords {
		c := &e.chords[i]
		if !e.played {
			flush(c.src.Onset)
		}
		k := find(c.src.Onset)
		switch {
		case !c.grace():
			k.chords = append(k.chords, i)
		case c.src.Grace.After || c.main < 0:
			k.after = append(k.after, i)
		default:
			k.graces = append(k.graces, i)
		}
	}
	if !e.played {
		flush(e.end())
		find(e.end()).ends = true
		e.changes(find)
	}
	sortCols(e.cols)
	for i := range e.cols {
		e.placeColumn(&e.cols[i])
		if i%64 == 63 {
			e.yield()
		}
	}
}

// changes notes clefs, keys and metres that change inside the range.
func (e *engraver) changes(find func(music.Frac) *col) {
	start, end := e.start(), e.end()
	for s := range e.clefs {
		for _, c := range e.clefs[s] {
			before := e.clefAt(s, c.Onset.Sub(music.F(1, 1<<20)))
			same := before.Sign == c.Sign && before.Line == c.Line && before.Octave == c.Octave
			courtesy := c.Onset == end && e.to < len(e.p.Measures)
			if start.Less(c.Onset) && (c.Onset.Less(end) || courtesy) && !same {
				k := find(c.Onset)
				k.clefs = append(k.clefs, c)
			}
		}
	}
	for m := e.from; m < e.to; m++ {
		now := &e.p.Measures[m]
		key := now.Key
		if m > e.from {
			was := e.p.Measures[m-1].Key
			if n := len(e.p.Measures[m-1].KeyChanges); n > 0 {
				was = e.p.Measures[m-1].KeyChanges[n-1].Key
			}
			if was.Fifths != now.Key.Fifths {
				k := find(now.Onset)
				k.key, k.was = &now.Key, was
			}
			if e.p.Measures[m-1].Metre != now.Metre && now.Metre.Unit > 0 {
				find(now.Onset).metre = &now.Metre
			}
		}
		for i := range now.KeyChanges {
			if c := &now.KeyChanges[i]; c.Key.Fifths != key.Fifths {
				k := find(c.Onset)
				k.key, k.was = &c.Key, key
				key = c.Key
			}
		}
	}
}

// placeColumn lays out one column by itself.
func (e *engraver) placeColumn(k *col) {
	n := len(e.staves)
	k.left, k.right = make([]float64, n), make([]float64, n)
	for _, i := range k.chords {
		placeHeads(&e.chords[i])
	}
	for s := range n {
		e.parts(k, s)
	}
	for s := range n {
		e.placeAccidentals(k.chords, s)
		e.placeDots(k.chords, s)
	}
	heads := make([]float64, n) // the right edge of all heads, beyond which dots stand
	for _, i := range k.chords {
		c := &e.chords[i]
		e.measureChord(c)
		for _, h := range c.heads {
			heads[c.staff] = max(heads[c.staff], c.dx+h.dx+width(h.glyph)*c.scale)
		}
	}
	for _, i := range k.chords {
		c := &e.chords[i]
		if d := c.src.Value.Dots; d > 0 && !c.rest() {
			c.right = max(c.right, heads[c.staff]-c.dx+dotGap+float64(d)*dotStep-0.1)
		}
		k.reach(c)
	}
	// Small notes stand left of what they lean on, last one nearest.
	for s := range n {
		e.placeGraces(k, k.graces, s)
	}
	k.notes = blackHead() / 2
	for _, l := range k.left {
		k.notes = max(k.notes, l)
	}
	k.block = e.blockWidth(k)
	if len(k.after) > 0 {
		for s := range n {
			saved := k.left[s]
			k.left[s] = k.notes + k.block
			e.placeGraces(k, k.after, s)
			k.block = max(k.block, k.left[s]-k.notes)
			k.left[s] = saved
		}
	}
}

// reach widens the column by a chord's extents.
func (k *col) reach(c *chord) {
	s := c.staff
	k.left[s] = max(k.left[s], c.left-c.dx)
	k.right[s] = max(k.right[s], c.right+c.dx)
	for _, h := range c.heads {
		if h.staff != s {
			k.left[h.staff] = max(k.left[h.staff], c.left-c.dx)
			k.right[h.staff] = max(k.right[h.staff], c.right+c.dx)
		}
	}
}

// smallNotes returns the width of the small notes before a column's heads.
func (k *col) smallNotes() float64 {
	w := 0.0
	if len(k.graces) > 0 {
		for _, l := range k.left {
			w = max(w, l-blackHead()/2)
		}
	}
	return w
}

// placeGraces sets small notes right to left; voices share their slots.
func (e *engraver) placeGraces(k *col, graces []int, staff int) {
	voices := map[string][]int{}
	most := 0
	for _, i := range graces {
		if c := &e.chords[i]; c.staff == staff {
			voices[c.src.Voice] = append(voices[c.src.Voice], i)
			most = max(most, len(voices[c.src.Voice]))
		}
	}
	if most == 0 {
		return
	}
	edge := max(k.left[staff], blackHead()/2) + gracePad
	for slot := range most {
		var here []int
		for _, list := range voices {
			if slot < len(list) {
				here = append(here, list[len(list)-1-slot])
			}
		}
		for _, i := range here {
			placeHeads(&e.chords[i])
		}
		e.placeAccidentals(here, staff)
		left, right := 0.0, 0.0
		for _, i := range here {
			c := &e.chords[i]
			e.measureChord(c)
			left, right = max(left, c.left), max(right, c.right)
		}
		for _, i := range here {
			e.chords[i].dx = -(edge + right)
		}
		edge += left + right + gracePad*0.8
	}
	k.left[staff] = edge - gracePad*0.8
}

// placeHeads moves every second head of a second to the other side of the stem.
func placeHeads(c *chord) {
	if c.rest() {
		return
	}
	w := width(c.heads[0].glyph) * c.scale
	shift := w - font.Defaults.StemThickness*c.scale
	if c.dir == 0 {
		shift = w
	}
	if c.dir >= 0 {
		moved := false
		for i := 1; i < len(c.heads); i++ {
			h, below := &c.heads[i], &c.heads[i-1]
			moved = !moved && h.staff == below.staff && h.pos-below.pos <= 1
			if moved {
				h.dx += shift
			}
		}
		return
	}
	moved := false
	for i := len(c.heads) - 2; i >= 0; i-- {
		h, above := &c.heads[i], &c.heads[i+1]
		moved = !moved && h.staff == above.staff && above.pos-h.pos <= 1
		if moved {
			h.dx -= shift
		}
	}
}

// parts moves chords of one column and staff aside where their heads would
// touch: upper voices stay, lower ones go right.
func (e *engraver) parts(k *col, staff int) {
	var cell []*chord
	for _, i := range k.chords {
		if c := &e.chords[i]; !c.rest() && c.staff == staff {
			cell = append(cell, c)
		}
	}
	if len(cell) < 2 {
		return
	}
	sorting.Stable(cell, func(a, b *chord) int { return partRank(a) - partRank(b) })
	for j := 1; j < len(cell); j++ {
		// Moving clear of one may meet another: two rounds settle it.
		for range 2 {
			for i := range j {
				cell[j].dx = max(cell[j].dx, aside(cell[i], cell[j]))
			}
		}
	}
	// A whole note is wider than the head of a stem: they stand a little apart.
	for _, a := range cell {
		for _, b := range cell {
			if a != b {
				offStem(a, b)
			}
		}
	}
}

// offStem moves one of two chords to the right where the stem of a runs through
// heads of b: a if its stem points up, else b.
func offStem(a, b *chord) {
	const inside, reach = 0.15, 8 // how far in a stem counts as through, in steps how far it reaches
	if a.dir == 0 {
		return
	}
	stem := a.dx + a.stemDX()
	for i := range b.heads {
		h := &b.heads[i]
		left := b.dx + h.dx
		right := left + width(h.glyph)*b.scale
		if h.staff != a.staff || stem < left+inside || stem > right-inside {
			continue
		}
		low, high := a.bottomHead().pos, a.topHead().pos
		if a.dir > 0 {
			high += reach
		} else {
			low -= reach
		}
		if h.pos <= low && a.dir > 0 || h.pos >= high && a.dir < 0 || h.pos < low || h.pos > high {
			continue
		}
		if a.dir > 0 {
			a.dx += right - stem + font.Defaults.StemThickness/2 + 0.04
			stem = a.dx + a.stemDX()
		} else {
			b.dx += stem - left + font.Defaults.StemThickness/2 + 0.04
		}
	}
}

// partRank orders the chords of a column: stems up, no stems, stems down.
func partRank(c *chord) int { return max(1, c.voice)*4 - c.dir }

// aside returns how far chord b must move right of its column's middle to
// stand beside a where the two would touch.
func aside(a, b *chord) float64 {
	if sharesHead(a, b) {
		return 0
	}
	opposed := a.dir > 0 && b.dir < 0
	shift := 0.0
	for i := range a.heads {
		for j := range b.heads {
			x, y := &a.heads[i], &b.heads[j]
			d := x.pos - y.pos
			if x.staff != y.staff || d > 1 || d < -1 && !(opposed && a.bottomHead().pos < b.topHead().pos) {
				continue
			}
			right := a.dx + x.dx + width(x.glyph)*a.scale
			need := right - y.dx + 0.08
			switch {
			case opposed && d == 1:
				need = right - y.dx - font.Defaults.StemThickness // the stems make one line
			case opposed && d < 0:
				need += 0.2
			}
			shift = max(shift, need)
		}
	}
	return shift
}

// sharesHead reports whether two voices may print their unison as one head:
// the same head, and dots alike, with nothing else near it.
func sharesHead(a, b *chord) bool {
	x, y := a.bottomHead(), b.topHead()
	if x.pos != y.pos || x.glyph != y.glyph || x.staff != y.staff || a.src.Value.Dots != b.src.Value.Dots {
		return false
	}
	return (len(a.heads) == 1 || a.heads[1].pos-x.pos > 1) && (len(b.heads) == 1 || y.pos-b.heads[len(b.heads)-2].pos > 1)
}

// measureChord sums up a chord's extents from its own middle.
func (e *engraver) measureChord(c *chord) {
	if c.rest() {
		g := restGlyph(c.src)
		w := width(g) / 2 * c.scale
		c.left, c.right = w, w+float64(c.src.Value.Dots)*dotStep
		return
	}
	c.left, c.right = 0, 0
	for i := range c.heads {
		h := &c.heads[i]
		c.left = max(c.left, -h.dx)
		c.right = max(c.right, h.dx+width(h.glyph)*c.scale)
		if h.hasAcc {
			c.left = max(c.left, -h.accX+parenWidth(h)*c.scale)
		}
	}
	if n := c.src.Value.Dots; n > 0 && len(c.dots) > 0 {
		c.right += dotGap + float64(n)*dotStep - 0.1
	}
	if c.group < 0 && c.dir > 0 && flags(c.src) > 0 {
		c.right = max(c.right, c.stemDX()+width(flagGlyph(flags(c.src), 1))*c.scale)
	}
	if c.src.Arpeggio != "" && !c.grace() {
		c.left += arpeggioRoom
	}
	for i := range c.src.Signs {
		if c.src.Signs[i].Kind == score.Schleifer {
			c.left += slideRoom()
			break
		}
	}
}

// stemDX returns the middle of the stem from the chord's middle.
func (c *chord) stemDX() float64 {
	half := blackHead() / 2 * c.scale
	if len(c.heads) > 0 {
		half = width(c.heads[0].glyph) / 2 * c.scale
	}
	half -= font.Defaults.StemThickness / 2 * c.scale
	if c.dir < 0 {
		return -half
	}
	return half
}

func (e *engraver) stemX(c *chord) float64 { return c.x + c.stemDX() }
