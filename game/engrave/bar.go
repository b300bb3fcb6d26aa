package engrave

import (
	"agremens/assets/font"
	"agremens/realize/score"
)

// Bar lines are built from right to left of these parts.
type barPart uint8

const (
	thin barPart = iota
	thick
	dotsPart
	dashed
)

// barParts returns the parts of the bar line before a column, left to right.
func (e *engraver) barParts(k *col) []barPart {
	var before, after *score.Measure
	if k.measure > e.from {
		before = &e.p.Measures[k.measure-1]
		after = &e.p.Measures[k.measure]
	} else if k.ends {
		before = &e.p.Measures[e.to-1]
	} else if k.measure == e.from && e.p.Measures[k.measure].RepeatStart {
		after = &e.p.Measures[k.measure]
	}
	end := before != nil && before.RepeatEnd
	start := after != nil && after.RepeatStart
	switch {
	case end && start:
		return []barPart{dotsPart, thin, thick, thin, dotsPart}
	case end:
		return []barPart{dotsPart, thin, thick}
	case start:
		return []barPart{thick, thin, dotsPart}
	case before == nil:
		return nil
	}
	switch before.Barline {
	case "light-light":
		return []barPart{thin, thin}
	case "light-heavy":
		return []barPart{thin, thick}
	case "heavy-light":
		return []barPart{thick, thin}
	case "heavy":
		return []barPart{thick}
	case "dashed", "dotted":
		return []barPart{dashed}
	case "none":
		return nil
	}
	return []barPart{thin}
}

func partWidth(p barPart) float64 {
	switch p {
	case thick:
		return font.Defaults.ThickBarlineThickness
	case dotsPart:
		return width(font.RepeatDot)
	}
	return font.Defaults.ThinBarlineThickness
}

func partGap(a, b barPart) float64 {
	if a == dotsPart || b == dotsPart {
		return font.Defaults.RepeatBarlineDotSeparation + 0.1
	}
	return font.Defaults.BarlineSeparation
}

func (e *engraver) barWidth(k *col) float64 {
	parts := e.barParts(k)
	w := 0.0
	for i, p := range parts {
		w += partWidth(p)
		if i > 0 {
			w += partGap(parts[i-1], p)
		}
	}
	return w
}

// hasBar reports whether a bar line stands before a column: not at the start
// of a system, unless a repeat begins there.
func (e *engraver) hasBar(k *col) bool {
	return k.measure > e.from || k.ends || k.measure == e.from && e.p.Measures[k.measure].RepeatStart
}

// drawBlock draws what is to the left of a column's notes: from right to left
// metre, key, bar line, clefs.
func (e *engraver) drawBlock(k *col, signatures float64) {
	right := k.x - k.notes
	bar := e.hasBar(k)
	if bar {
		right = k.x - k.notes - max(barPad, barToHead+blackHead()/2-k.notes)
		if k.ends && len(k.chords) == 0 {
			right = k.x - blackHead()/2
		}
	}
	if w := e.barWidth(k); bar && k.metre == nil && k.key == nil && right-w < k.edge+0.3 && len(k.chords) > 0 {
		// Where time leaves no room the line goes through the middle of it.
		right = (k.edge+k.x-k.notes)/2 + w/2
	}
	if k.metre != nil {
		right -= metreWidth(*k.metre)*signatures + signPadRight*signatures
		for s := range e.staves {
			e.drawMetre(s, *k.metre, right, signatures)
		}
		right -= signPadLeft * signatures
	}
	if k.key != nil {
		right -= keyWidth(*k.key, k.was)*signatures + signPadRight*signatures
		for s := range e.staves {
			e.drawKey(s, *k.key, k.was, e.clefAt(s, k.onset), right, signatures)
		}
		right -= signPadLeft * signatures
	}
	if bar {
		right = e.drawBar(k, right)
	}
	for _, c := range k.clefs {
		g := clefGlyph(c, true)
		s := c.Staff - 1
		at := right - 0.4 - width(g)
		if !bar && k.key == nil && k.metre == nil {
			at = k.x - max(k.left[s], blackHead()/2) - 0.3 - width(g)
		}
		e.hurdle(e.onStaff(s, g, at-float64(font.Bounds(g).Left), e.staves[s].y+clefY(c), 1, ""), signHurdle)
	}
}

// drawBar draws a bar line with its right edge at x and returns its left edge.
func (e *engraver) drawBar(k *col, x float64) float64 {
	parts := e.barParts(k)
	top, bottom := e.staves[0].y-2, e.staves[len(e.staves)-1].y+2
	for i := len(parts) - 1; i >= 0; i-- {
		p := parts[i]
		w := partWidth(p)
		x -= w
		switch p {
		case dotsPart:
			for s := range e.staves {
				for _, dy := range [2]float64{-0.5, 0.5} {
					e.draw(Item{Kind: KindGlyph, Layer: LayerStaff, Glyph: font.RepeatDot, X: x, Y: e.staves[s].y + dy, Scale: 1})
				}
			}
		case dashed:
			step := font.Defaults.DashedBarlineDashLength + font.Defaults.DashedBarlineGapLength
			for y := top; y < bottom; y += step {
				e.draw(Item{Kind: KindLine, X: x + w/2, Y: y, X2: x + w/2, Y2: min(bottom, y+font.Defaults.DashedBarlineDashLength), W: float32(w)})
			}
		default:
			e.draw(Item{Kind: KindLine, X: x + w/2, Y: top, X2: x + w/2, Y2: bottom, W: float32(w)})
		}
		if i > 0 {
			x -= partGap(parts[i-1], p)
		}
	}
	return x
}
