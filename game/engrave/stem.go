package engrave

import (
	"math"

	"agremens/assets/font"
	"agremens/realize/score"
)

// stemLength is an octave (common practice, no source).
const stemLength = 3.5

var flagGlyphs = [2][6]font.Glyph{
	{font.Flag8thUp, font.Flag16thUp, font.Flag32ndUp, font.Flag64thUp, font.Flag128thUp, font.Flag256thUp},
	{font.Flag8thDown, font.Flag16thDown, font.Flag32ndDown, font.Flag64thDown, font.Flag128thDown, font.Flag256thDown},
}

func flagGlyph(n, dir int) font.Glyph {
	n = min(max(n, 1), 6)
	if dir < 0 {
		return flagGlyphs[1][n-1]
	}
	return flagGlyphs[0][n-1]
}

// setTip sets the end of a chord's stem where it stands under no beam.
func (e *engraver) setTip(c *chord) {
	if c.dir == 0 || c.rest() {
		return
	}
	n := flags(c.src)
	length := stemLength
	if c.scale < 1 {
		length = 4.2 // small notes keep a little more stem than their size
	}
	if n > 2 {
		length += float64(n-2) * 0.75
	}
	if c.src.Stem == score.StemAuto || c.voice > 0 {
		// Stems that lead out of the staff shorten by up to a space.
		if away := outward(c); away > 0 && n < 3 && c.scale == 1 {
			length -= min(1, float64(away)*0.25)
		}
	}
	length *= c.scale
	middle := e.staves[c.staff].y
	if c.dir > 0 {
		c.tip = e.headY(c.topHead()) - length
		if c.scale == 1 {
			c.tip = min(c.tip, middle)
		}
		return
	}
	c.tip = e.headY(c.bottomHead()) + length
	if c.scale == 1 {
		c.tip = max(c.tip, middle)
	}
}

// outward counts the steps by which a stem starts beyond the middle line on
// the side it points to.
func outward(c *chord) int {
	if c.dir > 0 {
		return c.topHead().pos
	}
	return -c.bottomHead().pos
}

// tipOnBeam sets the stem's end at its beam's outer edge.
func (e *engraver) tipOnBeam(c *chord, g *group) {
	x := e.stemX(c)
	c.tip = g.y0 + g.slope*(x-g.x0)
	if g.mixed && c.dir != e.chords[g.chords[0]].dir {
		// From the other side the whole bundle is crossed to its outer edge.
		c.tip += float64(e.chords[g.chords[0]].dir) * font.Defaults.BeamThickness * c.scale
	}
}

// drawStem draws stem, flag, grace slash and tremolo strokes.
func (e *engraver) drawStem(c *chord) {
	if c.dir == 0 || c.rest() {
		return
	}
	x := e.stemX(c)
	from := c.bottomHead()
	kind, sign := font.StemUpSE, 1.0
	if c.dir < 0 {
		from, kind, sign = c.topHead(), font.StemDownNW, -1
	}
	y := e.headY(from)
	if a, ok := font.Anchor(from.glyph, kind); ok {
		y += float64(a.Y) * c.scale
	} else {
		y -= sign * 0.16 * c.scale
	}
	w := font.Defaults.StemThickness * c.scale
	e.inkOf(c, e.draw(Item{Kind: KindLine, X: x, Y: y, X2: x, Y2: c.tip, W: float32(w), Note: c.note()}))
	stem := Box{x - w/2, min(y, c.tip), x + w/2, max(y, c.tip)}
	e.cover(c.staff, stem)
	if e.crosses(c) {
		e.crossing = append(e.crossing, stem)
	}
	if n := flags(c.src); n > 0 && c.group < 0 {
		e.chordGlyph(c, c.staff, flagGlyph(n, c.dir), x-w/2, c.tip, c.note())
	}
	if c.grace() && c.src.Grace.Slash && (c.group < 0 || e.groups[c.group].chords[0] == e.at(c)) {
		e.drawSlash(c, x)
	}
	for _, s := range c.src.Signs {
		if s.Kind == score.Tremolo {
			e.drawTremolo(c, x, s.Text)
		}
	}
}

// crosses reports whether a chord or its beam has heads on more than one staff.
func (e *engraver) crosses(c *chord) bool {
	if c.group >= 0 {
		return e.groups[c.group].crosses
	}
	return !c.rest() && c.bottomHead().staff != c.topHead().staff
}

// at returns a chord's place in chords.
func (e *engraver) at(c *chord) int { return e.byIndex[c.index-e.first] }

// drawSlash draws the stroke through a small note's stem and flag.
func (e *engraver) drawSlash(c *chord, x float64) {
	s, dir := c.scale, float64(c.dir)
	y := c.tip + dir*1.7*s
	it := e.draw(Item{Kind: KindLine, X: x - 0.75*s, Y: y + dir*0.55*s, X2: x + 1.15*s, Y2: y - dir*1.05*s,
		W: float32(font.Defaults.StemThickness * 1.1 * s), Note: c.note()})
	e.inkOf(c, it)
	b := it.Bounds()
	e.cover(c.staff, b)
}

var tremolos = [4]font.Glyph{font.Tremolo1, font.Tremolo2, font.Tremolo3, font.Tremolo4}

func (e *engraver) drawTremolo(c *chord, x float64, strokes string) {
	n := 3
	if len(strokes) == 1 && strokes[0] >= '1' && strokes[0] <= '4' {
		n = int(strokes[0] - '0')
	}
	y := c.tip + float64(c.dir)*(1+float64(n-1)*0.4)
	if c.group >= 0 {
		y += float64(c.dir) * beamGap() * float64(flags(c.src))
	}
	e.chordGlyph(c, c.staff, tremolos[n-1], x, y, c.note())
}

// chordGlyph draws a glyph at a chord's size and takes it into the skyline.
func (e *engraver) chordGlyph(c *chord, s int, g font.Glyph, x, y float64, id score.ID) Box {
	return e.ofChord(c, s, g, x, y, c.scale, id)
}

// ofChord is chordGlyph at a size of its own.
func (e *engraver) ofChord(c *chord, s int, g font.Glyph, x, y, scale float64, id score.ID) Box {
	it := e.draw(Item{Kind: KindGlyph, Glyph: g, X: x, Y: y, Scale: float32(scale), Note: id})
	e.inkOf(c, it)
	b := it.Bounds()
	e.cover(s, b)
	return b
}

// inkOf marks an item as belonging to its chord's ornament where the chord is
// part of one.
func (e *engraver) inkOf(c *chord, it *Item) {
	if e.played || c.grace() && c.ornament != "" {
		it.Ornament = c.ornament
		it.Layer = e.signLayer()
	}
}

func (e *engraver) signLayer() Layer {
	if e.played {
		return LayerPlayed
	}
	return LayerSign
}

// drawLedgers draws the ledger lines of a chord on one staff.
func (e *engraver) drawLedgers(c *chord) {
	const extra = 0.1 // a hair narrower than the font's default keeps neighbours apart
	reach := (font.Defaults.LegerLineExtension - extra) * c.scale
	for s := range e.staves {
		for side := -1; side <= 1; side += 2 {
			// From the outermost head inward, each line as wide as the heads on or beyond it.
			outer := 0
			for i := range c.heads {
				if h := &c.heads[i]; h.staff == s {
					outer = max(outer, h.pos*side)
				}
			}
			for line := 6; line <= outer; line += 2 {
				left, right := math.Inf(1), math.Inf(-1)
				for i := range c.heads {
					if h := &c.heads[i]; h.staff == s && h.pos*side >= line {
						// Heads a space beyond the line only count where displaced ones need it.
						left, right = min(left, h.dx), max(right, h.dx+width(h.glyph)*c.scale)
					}
				}
				y := e.staves[s].y - float64(line*side)/2
				e.draw(Item{Kind: KindLine, X: c.x + left - reach, Y: y, X2: c.x + right + reach, Y2: y,
					W: float32(font.Defaults.LegerLineThickness * max(0.75, c.scale)), Note: c.note()})
			}
		}
	}
}
