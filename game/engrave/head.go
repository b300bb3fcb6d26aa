package engrave

import (
	"agremens/assets/font"
	"agremens/realize/music"
	"agremens/realize/score"
)

// clefGlyph returns a clef's glyph; change asks for the small form.
func clefGlyph(c score.Clef, change bool) font.Glyph {
	switch c.Sign {
	case "F":
		switch {
		case c.Octave < 0:
			return font.FClef8vb
		case c.Octave > 0:
			return font.FClef8va
		case change:
			return font.FClefChange
		}
		return font.FClef
	case "C":
		if change {
			return font.CClefChange
		}
		return font.CClef
	case "percussion":
		return font.UnpitchedPercussionClef1
	}
	switch {
	case c.Octave == -1:
		return font.GClef8vb
	case c.Octave < -1:
		return font.GClef15mb
	case c.Octave == 1:
		return font.GClef8va
	case c.Octave > 1:
		return font.GClef15ma
	case change:
		return font.GClefChange
	}
	return font.GClef
}

// clefY returns the y of a clef's line from the staff's middle line.
func clefY(c score.Clef) float64 {
	line := c.Line
	if line == 0 {
		line = map[string]int{"G": 2, "F": 4}[c.Sign]
	}
	if line == 0 {
		line = 3
	}
	return float64(3 - line)
}

// Staff positions of the signature's sharps and flats under a treble clef, in
// the order they are added.
var (
	sharpPositions = [7]int{4, 1, 5, 2, -1, 3, 0}
	flatPositions  = [7]int{0, 3, -1, 2, -2, 1, -3}
)

type keySign struct {
	glyph font.Glyph
	pos   int
	x     float64
}

// keySigns returns the accidentals of a signature for a clef. A change to no
// signature cancels the old one with naturals.
func keySigns(k, was music.Key, clef score.Clef) []keySign {
	n, g := int(k.Fifths), font.AccidentalSharp
	if n == 0 {
		n, g = int(was.Fifths), font.AccidentalNatural
	} else if n < 0 {
		g = font.AccidentalFlat
	}
	table := sharpPositions
	if n < 0 {
		table, n = flatPositions, -n
	}
	n = min(n, 7)
	// The pattern moves with the clef, by the nearer way.
	shift := mod(34-middle(clef), 7)
	if shift > 3 {
		shift -= 7
	}
	out := make([]keySign, n)
	x := 0.0
	for i := range n {
		pos := table[i] + shift
		if pos > 5 {
			pos -= 7
		}
		out[i] = keySign{g, pos, x}
		x += width(g) + 0.08
		if g == font.AccidentalNatural {
			x += 0.1
		}
	}
	return out
}

func keyWidth(k, was music.Key) float64 {
	signs := keySigns(k, was, score.Clef{Sign: "G", Line: 2})
	if len(signs) == 0 {
		return 0
	}
	last := signs[len(signs)-1]
	return last.x + width(last.glyph)
}

func (e *engraver) drawKey(s int, k, was music.Key, clef score.Clef, x, scale float64) {
	for _, a := range keySigns(k, was, clef) {
		e.hurdle(e.onStaff(s, a.glyph, x+a.x*scale, e.staves[s].y-float64(a.pos)/2, scale, ""), signHurdle)
	}
}

var timeDigits = [10]font.Glyph{font.TimeSig0, font.TimeSig1, font.TimeSig2, font.TimeSig3, font.TimeSig4,
	font.TimeSig5, font.TimeSig6, font.TimeSig7, font.TimeSig8, font.TimeSig9}

func number(n int, set *[10]font.Glyph) []font.Glyph {
	if n >= 10 {
		return append(number(n/10, set), set[n%10])
	}
	return []font.Glyph{set[max(0, n)]}
}

func advance(gs []font.Glyph) float64 {
	w := 0.0
	for _, g := range gs {
		w += font.Advance(g)
	}
	return w
}

// metreGlyph returns the sign of a metre that is not printed as a fraction.
func metreGlyph(m music.Metre) (g font.Glyph, ok bool) {
	switch m.Symbol {
	case music.CommonTime:
		return font.TimeSigCommon, true
	case music.CutTime:
		return font.TimeSigCutCommon, true
	}
	return 0, false
}

func metreWidth(m music.Metre) float64 {
	if g, ok := metreGlyph(m); ok {
		return font.Advance(g)
	}
	return max(advance(number(m.Beats, &timeDigits)), advance(number(m.Unit, &timeDigits)))
}

func (e *engraver) drawMetre(s int, m music.Metre, x, scale float64) {
	if m.Unit == 0 {
		return
	}
	if g, ok := metreGlyph(m); ok {
		e.onStaff(s, g, x, e.staves[s].y, scale, "")
		return
	}
	w := metreWidth(m)
	for i, n := range [2]int{m.Beats, m.Unit} {
		gs := number(n, &timeDigits)
		at := x + (w-advance(gs))/2*scale
		for _, g := range gs {
			e.onStaff(s, g, at, e.staves[s].y+float64(2*i-1)*scale, scale, "")
			at += font.Advance(g) * scale
		}
	}
}

// drawHead draws clefs, key and, if wanted, metre from x on and returns the
// width used.
func (e *engraver) drawHead(onset music.Frac, x float64, metre bool) float64 {
	const pad = 0.7
	at := x + 0.6
	clefs := 0.0
	for s := range e.staves {
		clefs = max(clefs, width(clefGlyph(e.clefAt(s, onset), false)))
	}
	key := e.p.KeyAt(onset)
	m := &e.p.Measures[e.p.MeasureAt(onset)]
	for s := range e.staves {
		clef := e.clefAt(s, onset)
		g := clefGlyph(clef, false)
		e.hurdle(e.onStaff(s, g, at-float64(font.Bounds(g).Left), e.staves[s].y+clefY(clef), 1, ""), signHurdle)
		here := at + clefs + pad
		if key.Fifths != 0 {
			e.drawKey(s, key, music.Key{}, clef, here, 1)
			here += keyWidth(key, music.Key{}) + pad
		}
		if metre {
			e.drawMetre(s, m.Metre, here, 1)
		}
	}
	at += clefs + pad
	if key.Fifths != 0 {
		at += keyWidth(key, music.Key{}) + pad
	}
	if metre && m.Metre.Unit > 0 {
		at += metreWidth(m.Metre) + pad
	}
	return at - x
}

func mod(a, b int) int { return (a%b + b) % b }
