package engrave

import (
	"slices"

	"agremens/assets/font"
	"agremens/realize/score"
)

const (
	dotGap  = 0.3
	dotStep = 0.65
)

func restGlyph(c *score.Chord) font.Glyph {
	if c.WholeRest {
		return font.RestWhole
	}
	switch valueType(c) {
	case score.Long:
		return font.RestLonga
	case score.Breve:
		return font.RestDoubleWhole
	case score.Whole:
		return font.RestWhole
	case score.Half:
		return font.RestHalf
	case score.Quarter:
		return font.RestQuarter
	case score.Eighth:
		return font.Rest8th
	case score.N16th:
		return font.Rest16th
	case score.N32nd:
		return font.Rest32nd
	case score.N64th:
		return font.Rest64th
	}
	return font.Rest128th
}

// restPosition puts a rest in the middle, or line by line clear of what the
// other voices of its staff have at x.
func (e *engraver) restPosition(c *chord, x float64) int {
	base := 0
	g := restGlyph(c.src)
	if g == font.RestWhole {
		base = 2
	}
	start, side := base, 0
	switch c.voice {
	case 0:
		if side = -e.beamOver(c); side == 0 {
			return base
		}
	case 1:
		start, side = base+4, 1
	default:
		start, side = base-4, -1
	}
	b := font.Bounds(g)
	half := float64(b.Right-b.Left)/2*c.scale + 0.1
	sky := &e.staves[c.staff].sky
	for pos := start; pos*side <= start*side+28; pos += side * 2 {
		top, bottom := -float64(pos)/2+float64(b.Top), -float64(pos)/2+float64(b.Bottom)
		if side > 0 && bottom+0.2 <= sky.inkTop(x-half, x+half) || side < 0 && top-0.2 >= sky.inkBottom(x-half, x+half) {
			return pos
		}
	}
	return e.restBetween(c, x, half, start, side)
}

// beamOver returns the direction of the stems of a beam that its own voice
// carries over a rest, 0 where there is none.
func (e *engraver) beamOver(c *chord) int {
	i := e.at(c)
	for j := i - 1; j >= 0 && e.chords[j].src.Measure == c.src.Measure; j-- {
		o := &e.chords[j]
		if o.src.Voice != c.src.Voice || o.rest() || o.grace() {
			continue
		}
		if o.group < 0 || o.staff != c.staff {
			return 0
		}
		if g := &e.groups[o.group]; g.chords[len(g.chords)-1] > i && !g.mixed {
			return o.dir
		}
		return 0
	}
	return 0
}

// restBetween is where a rest stands that finds no place beyond the other
// voices: in the gap between them that is nearest to where it would stand.
func (e *engraver) restBetween(c *chord, x, half float64, start, side int) int {
	y := e.staves[c.staff].y
	b := font.Bounds(restGlyph(c.src))
	var near []Box
	for i := range e.out.items {
		if it := &e.out.items[i]; it.Layer != LayerStaff {
			if b := it.Bounds(); b.Left < x+half && b.Right > x-half {
				near = append(near, b)
			}
		}
	}
	for step := 0; step <= 16; step += 2 {
		for _, pos := range [2]int{start + side*step, start - side*step} {
			at := y - float64(pos)/2
			box := Box{x - half, at + float64(b.Top) - 0.1, x + half, at + float64(b.Bottom) + 0.1}
			if !slices.ContainsFunc(near, box.Overlaps) {
				return pos
			}
		}
	}
	return start
}

// merged reports whether two voices rest together: then one rest in the
// middle stands for both, and the lower one is not printed.
func (e *engraver) merged(c *chord, k *col) (both, silent bool) {
	if c.voice == 0 {
		return false, false
	}
	for _, i := range k.chords {
		o := &e.chords[i]
		if o == c || o.staff != c.staff {
			continue
		}
		if !o.rest() {
			return false, false
		}
		if o.src.Dur != c.src.Dur || o.src.WholeRest != c.src.WholeRest {
			return false, false
		}
		both = true
		silent = silent || o.voice < c.voice || o.voice == c.voice && o.index < c.index
	}
	return both, silent
}

func (e *engraver) drawRest(c *chord, k *col) {
	g := restGlyph(c.src)
	both, silent := e.merged(c, k)
	if silent {
		return
	}
	if both {
		c.voice = 0
	}
	x := c.x
	if c.src.WholeRest {
		x = e.middleOfMeasure(c)
	}
	c.restPos = e.restPosition(c, x)
	y := e.staves[c.staff].y - float64(c.restPos)/2
	if (g == font.RestWhole || g == font.RestHalf) && (c.restPos > 4 || c.restPos < -4) {
		lineY, w := y, width(g)/2+0.3
		e.draw(Item{Kind: KindLine, X: x - w, Y: lineY, X2: x + w, Y2: lineY, W: float32(font.Defaults.LegerLineThickness)})
	}
	b := e.chordGlyph(c, c.staff, g, x-width(g)/2*c.scale-float64(font.Bounds(g).Left)*c.scale, y, "")
	e.hurdle(b, signHurdle)
	for i := range c.src.Value.Dots {
		if c.src.WholeRest {
			break
		}
		dy := -0.5
		if g == font.RestWhole {
			dy = 0.5
		}
		e.chordGlyph(c, c.staff, font.AugmentationDot, b.Right+dotGap*0.8+float64(i)*dotStep, y+dy, "")
	}
}

// middleOfMeasure returns the x in the middle between a measure's bar lines.
func (e *engraver) middleOfMeasure(c *chord) float64 {
	k := e.colAt(c.src.Onset)
	end := e.colAt(e.p.Measures[c.src.Measure].End())
	left, right := k.x-k.notes, end.x-end.notes-end.block
	return (left + right) / 2
}

// placeDots chooses a space for every dot of a column on one staff: notes on
// a line take the space above, or below where that is taken.
func (e *engraver) placeDots(chords []int, staff int) {
	taken := map[int]bool{}
	for _, i := range chords {
		c := &e.chords[i]
		if c.rest() || c.src.Value.Dots == 0 || c.staff != staff {
			continue
		}
		c.dots = c.dots[:0]
		for j := len(c.heads) - 1; j >= 0; j-- {
			pos := c.heads[j].pos
			if pos%2 == 0 {
				if c.voice == 2 && c.dir < 0 {
					pos--
				} else {
					pos++
				}
			}
			if taken[pos] {
				if other := 2*c.heads[j].pos - pos; c.heads[j].pos%2 == 0 && !taken[other] {
					pos = other
				} else {
					continue
				}
			}
			taken[pos] = true
			c.dots = append(c.dots, pos)
		}
	}
}

// drawDots draws a chord's dots, right of all heads it stands with.
func (e *engraver) drawDots(c *chord, k *col) {
	right := 0.0
	for _, i := range k.chords {
		o := &e.chords[i]
		if o.rest() || o.staff != c.staff {
			continue
		}
		for _, h := range o.heads {
			right = max(right, o.x+h.dx+width(h.glyph)*o.scale-c.x)
		}
	}
	if c.grace() {
		right = blackHead() / 2 * c.scale
	}
	for _, pos := range c.dots {
		y := e.staves[c.staff].y - float64(pos)/2
		for i := range c.src.Value.Dots {
			e.chordGlyph(c, c.staff, font.AugmentationDot, c.x+right+(dotGap+float64(i)*dotStep)*c.scale, y, c.note())
		}
	}
}
