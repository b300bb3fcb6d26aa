package engrave

import (
	"agremens/assets/font"
	"agremens/realize/score"
)

// signGlyph returns the glyph of an ornament sign; ok is false for signs drawn
// otherwise (wavy lines, tremolo strokes) or unknown.
func signGlyph(s score.Sign) (font.Glyph, bool) {
	switch s.Kind {
	case score.TrillMark:
		return font.OrnamentTrill, true
	case score.Turn, score.DelayedTurn:
		if s.Slash {
			return font.OrnamentTurnSlash, true
		}
		return font.OrnamentTurn, true
	case score.InvertedTurn, score.DelayedInvertedTurn:
		if s.Slash {
			return font.OrnamentTurnSlash, true
		}
		return font.OrnamentTurnInverted, true
	case score.VerticalTurn:
		return font.OrnamentTurnUp, true
	case score.InvertedVerticalTurn:
		return font.OrnamentTurnUpS, true
	case score.Shake:
		return font.OrnamentTremblement, true
	case score.Mordent:
		// Chosen by shape: some SMuFL names of these say the opposite.
		switch {
		case s.Approach == "above":
			return font.OrnamentPrecompInvertedMordentUpperPrefix, true
		case s.Approach == "below":
			return font.OrnamentPrecompSlideTrillBach, true
		case s.Long:
			return font.OrnamentPrecompTrillWithMordent, true
		}
		return font.OrnamentMordent, true
	case score.InvertedMordent:
		switch {
		case s.Approach == "above" && s.Departure == "above":
			return font.OrnamentPrecompAppoggTrillSuffix, true
		case s.Approach == "above":
			return font.OrnamentPrecompMordentUpperPrefix, true
		case s.Approach == "below" && s.Departure == "above":
			return font.OrnamentPrecompSlideTrillMarpurg, true
		case s.Approach == "below":
			return font.OrnamentPrecompSlideTrillDAnglebert, true
		case s.Departure == "above":
			return font.OrnamentPrecompTrillSuffixDandrieu, true
		case s.Departure == "below":
			return font.OrnamentPrecompTrillLowerSuffix, true
		case s.Long:
			return font.OrnamentTremblement, true
		}
		return font.OrnamentShortTrill, true
	case score.Schleifer:
		return font.OrnamentSchleifer, true
	case score.Haydn:
		return font.OrnamentHaydn, true
	case score.OtherOrnament:
		return font.ByName(s.Glyph)
	}
	return 0, false
}

const signGap = 0.45

// drawSigns sets ornament signs beside their notes, clear of everything drawn
// before, one above the other.
func (e *engraver) drawSigns(list []int) {
	stops := e.wavyStops(list)
	for _, i := range list {
		c := &e.chords[i]
		if len(c.src.Signs) == 0 || c.rest() {
			continue
		}
		trill := false
		for k, s := range c.src.Signs {
			switch {
			case s.Kind == score.Schleifer:
				e.drawSlide(c)
			case s.Kind == score.WavyLine && s.Line != "stop" && s.Line != "continue" && !trill:
				e.drawTrill(c, s, stops[i], false)
			case s.Kind == score.TrillMark:
				wavy := false
				for _, o := range c.src.Signs[k+1:] {
					wavy = wavy || o.Kind == score.WavyLine && o.Line != "stop"
				}
				if wavy {
					trill = true
					e.drawTrill(c, s, stops[i], true)
					continue
				}
				e.drawSign(c, s)
			default:
				e.drawSign(c, s)
			}
		}
	}
}

func signSide(c *chord, s score.Sign) float64 {
	if s.Placed {
		if s.Above {
			return 1
		}
		return -1
	}
	if c.voice == 2 {
		return -1
	}
	return 1
}

func (e *engraver) drawSign(c *chord, s score.Sign) {
	g, ok := signGlyph(s)
	if !ok {
		return
	}
	x := c.x
	switch s.Kind {
	case score.DelayedTurn, score.DelayedInvertedTurn:
		// Between the note and the next.
		x = (c.x + e.x(c.src.End().Float())) / 2
		x = min(x, c.x+6)
	}
	e.stackSign(c, s, g, x, signSide(c, s))
}

// stackSign draws a sign with its accidentals outward from its staff and
// returns its extent.
func (e *engraver) stackSign(c *chord, s score.Sign, g font.Glyph, x, side float64) Box {
	const accScale, gap = 0.62, 0.18
	scale := 1.0
	if c.scale < 1 {
		scale = 0.8
	}
	b := font.Bounds(g)
	left := x - float64(b.Left+b.Right)/2*scale
	// Near the staff first: what belongs under the sign when it stands above.
	var inner, outer []score.AccidentalMark
	for _, a := range s.Accidentals {
		if a.Below == (side > 0) {
			inner = append(inner, a)
		} else {
			outer = append(outer, a)
		}
	}
	box := Box{x, e.staves[c.staff].y - side*2.5, x, e.staves[c.staff].y - side*2.5}
	first := true
	put := func(g font.Glyph, gx, sc, pad float64) {
		y := e.clearOf(c.staff, g, gx, e.staves[c.staff].y-side*2.4, sc, side, pad)
		it := e.draw(Item{Kind: KindGlyph, Glyph: g, X: gx, Y: y, Scale: float32(sc), Note: c.note(), Ornament: c.ornament, Layer: e.signIf(c)})
		gb := it.Bounds()
		e.cover(c.staff, gb)
		if first {
			box = gb
		}
		box = box.union(gb)
		first = false
	}
	accidentals := func(list []score.AccidentalMark) {
		for _, a := range list {
			ag, ok := accidentalGlyph(a.Value)
			if !ok {
				continue
			}
			ab := font.Bounds(ag)
			pad := gap
			if first {
				pad = signGap
			}
			put(ag, x-float64(ab.Left+ab.Right)/2*accScale, accScale, pad)
		}
	}
	accidentals(inner)
	pad := signGap
	if !first {
		pad = gap
	}
	put(g, left, scale, pad)
	accidentals(outer)
	e.out.spots = append(e.out.spots, Spot{Note: c.note(), Ornament: c.ornament, Index: -1, Onset: c.src.Onset.Float(), Box: box})
	return box
}

// drawSlide draws the sign of a slide before its note.
func (e *engraver) drawSlide(c *chord) {
	g := font.OrnamentSchleifer
	b := font.Bounds(g)
	x := c.x - c.left - float64(b.Left)*slideScale
	y := e.headY(c.topHead()) - float64(b.Top+b.Bottom)/2*slideScale
	it := e.draw(Item{Kind: KindGlyph, Glyph: g, X: x, Y: y, Scale: slideScale, Note: c.note(), Ornament: c.ornament, Layer: e.signIf(c)})
	e.cover(c.staff, it.Bounds())
	e.out.spots = append(e.out.spots, Spot{Note: c.note(), Ornament: c.ornament, Index: -1, Onset: c.src.Onset.Float(), Box: it.Bounds()})
}

const slideScale = 0.8

// slideRoom is what the sign of a slide needs left of its note.
func slideRoom() float64 { return width(font.OrnamentSchleifer)*slideScale + 0.2 }

// wavyStops finds the chord at which the wavy line that starts at a chord
// ends.
func (e *engraver) wavyStops(list []int) map[int]int {
	var stops map[int]int
	open := map[string]int{}
	for _, i := range list {
		c := &e.chords[i]
		for _, s := range c.src.Signs {
			if s.Kind != score.WavyLine {
				continue
			}
			if stops == nil {
				stops = map[int]int{}
			}
			switch s.Line {
			case "start", "":
				open[c.src.Voice] = i
				stops[i] = i
			case "stop":
				if from, ok := open[c.src.Voice]; ok {
					stops[from] = i
					delete(open, c.src.Voice)
				}
			}
		}
	}
	return stops
}

// drawTrill draws tr with its wavy line, or the line alone.
func (e *engraver) drawTrill(c *chord, s score.Sign, stop int, tr bool) {
	last := &e.chords[stop]
	k := e.colAt(last.src.End())
	end := e.x(last.src.End().Float()) - 1.4
	if k.block > 0 {
		end = e.x(last.src.End().Float()) - k.notes - k.block - 0.3
	}
	side := signSide(c, s)
	seg := font.WiggleTrill
	adv := font.Advance(seg)
	x := c.x - blackHead()/2
	if tr {
		b := font.Bounds(font.OrnamentTrill)
		x = c.x + float64(b.Right-b.Left)/2 + 0.2
	}
	n := max(1, int((end-x)/adv))
	// Clear over the whole length, then the sign joins at that height.
	from := c.x - blackHead()/2
	if tr {
		from = c.x - width(font.OrnamentTrill)/2 - 0.1
	}
	y := e.staves[c.staff].y - side*3
	if side > 0 {
		y = min(y, e.above(c.staff, from, x+float64(n)*adv)-signGap-0.3)
	} else {
		y = max(y, e.below(c.staff, from, x+float64(n)*adv)+signGap+1.6)
	}
	box := Box{from, y - 1, x + float64(n)*adv, y + 0.3}
	if tr {
		b := font.Bounds(font.OrnamentTrill)
		it := e.draw(Item{Kind: KindGlyph, Glyph: font.OrnamentTrill, X: c.x - float64(b.Right+b.Left)/2, Y: y, Scale: 1, Note: c.note(), Ornament: c.ornament, Layer: e.signIf(c)})
		box = box.union(it.Bounds())
		e.cover(c.staff, it.Bounds())
	}
	lift := -0.35 // the line runs at the middle of the letters
	for i := range n {
		it := e.draw(Item{Kind: KindGlyph, Glyph: seg, X: x + float64(i)*adv, Y: y + lift, Scale: 1, Note: c.note(), Ornament: c.ornament, Layer: e.signIf(c)})
		e.cover(c.staff, it.Bounds())
	}
	for _, a := range s.Accidentals {
		if g, ok := accidentalGlyph(a.Value); ok {
			gx := c.x - width(g)/2*0.62
			e.onStaff(c.staff, g, gx, e.clearOf(c.staff, g, gx, y, 0.62, side, 0.18), 0.62, c.note())
		}
	}
	e.out.spots = append(e.out.spots, Spot{Note: c.note(), Ornament: c.ornament, Index: -1, Onset: c.src.Onset.Float(), Box: box})
}
