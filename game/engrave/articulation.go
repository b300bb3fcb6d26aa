package engrave

import (
	"strings"

	"agremens/assets/font"
	"agremens/realize/score"
)

// artic describes an articulation's glyphs and whether it stands close to the
// head, inside the staff if need be.
type artic struct {
	above, below font.Glyph
	close        bool
	top          bool // always above
}

func articOf(a score.Articulation) (artic, bool) {
	switch a {
	case "staccato":
		return artic{font.ArticStaccatoAbove, font.ArticStaccatoBelow, true, false}, true
	case "tenuto":
		return artic{font.ArticTenutoAbove, font.ArticTenutoBelow, true, false}, true
	case "detached-legato":
		return artic{font.ArticTenutoStaccatoAbove, font.ArticTenutoStaccatoBelow, true, false}, true
	case "staccatissimo", "spiccato":
		return artic{font.ArticStaccatissimoAbove, font.ArticStaccatissimoBelow, false, false}, true
	case "accent":
		return artic{font.ArticAccentAbove, font.ArticAccentBelow, false, false}, true
	case "strong-accent":
		return artic{font.ArticMarcatoAbove, font.ArticMarcatoBelow, false, true}, true
	case "stress":
		return artic{font.ArticStressAbove, font.ArticStressBelow, false, false}, true
	}
	return artic{}, false
}

// markSide returns the side for marks that belong at the head: 1 above.
func markSide(c *chord) float64 {
	switch {
	case c.voice == 1:
		return 1
	case c.voice == 2:
		return -1
	case c.dir == 0 && !c.rest():
		if c.topHead().pos < 0 {
			return -1
		}
		return 1
	}
	return float64(-c.dir)
}

// drawClose draws staccato dots and tenuto strokes at the head.
func (e *engraver) drawClose(c *chord) {
	if c.rest() {
		return
	}
	side := markSide(c)
	for _, name := range c.src.Artic {
		a, ok := articOf(name)
		if !ok || !a.close {
			continue
		}
		g, h := a.above, c.topHead()
		if side < 0 {
			g, h = a.below, c.bottomHead()
		}
		x := c.x - width(g)/2*c.scale - float64(font.Bounds(g).Left)*c.scale
		var y float64
		if float64(c.dir) == side {
			// At the stem's end.
			x += c.stemDX() * 0.5
			y = c.tip - side*0.5
			y = e.clearOf(c.staff, g, x, y, c.scale, side, 0.3)
		} else {
			// In the next space beyond the head that is free of a staff line.
			pos := h.pos + int(side)*2
			if pos%2 == 0 && pos >= -4 && pos <= 4 {
				pos += int(side)
			}
			y = e.staves[h.staff].y - float64(pos)/2
			b := font.Bounds(g)
			box := Box{x + float64(b.Left), y + float64(b.Top), x + float64(b.Right), y + float64(b.Bottom)}
			if pos > 5 || pos < -5 || e.taken(c, box) {
				y = e.clearOf(h.staff, g, x, y, c.scale, side, 0.3)
			}
		}
		e.chordGlyph(c, h.staff, g, x, y, c.note())
	}
}

// taken reports whether another chord's head of the same column lies in a box.
func (e *engraver) taken(c *chord, b Box) bool {
	k := e.colAt(c.src.Onset)
	for _, i := range k.chords {
		o := &e.chords[i]
		for j := range o.heads {
			h := &o.heads[j]
			y := e.headY(h)
			if b.Overlaps(Box{o.x + h.dx, y - 0.5, o.x + h.dx + width(h.glyph), y + 0.5}) {
				return true
			}
		}
	}
	return false
}

// clearOf returns the y at which a glyph at x stands gap clear of everything
// on one side, no nearer to the staff than y.
func (e *engraver) clearOf(s int, g font.Glyph, x, y, scale, side, gap float64) float64 {
	b := font.Bounds(g)
	l, r := x+float64(b.Left)*scale, x+float64(b.Right)*scale
	if side > 0 {
		return min(y, e.above(s, l, r)-gap-float64(b.Bottom)*scale)
	}
	return max(y, e.below(s, l, r)+gap-float64(b.Top)*scale)
}

// drawFar draws accents and wedges outside the staff.
func (e *engraver) drawFar(c *chord) {
	for _, name := range c.src.Artic {
		switch name {
		case "breath-mark", "caesura":
			g := font.BreathMarkComma
			if name == "caesura" {
				g = font.Caesura
			}
			e.onStaff(c.staff, g, c.x+c.right+0.3, e.staves[c.staff].y-2, 1, "")
			continue
		}
		a, ok := articOf(name)
		if !ok || a.close || c.rest() {
			continue
		}
		side := markSide(c)
		if a.top {
			side = 1
		}
		g := a.above
		if side < 0 {
			g = a.below
		}
		x := c.x - width(g)/2*c.scale - float64(font.Bounds(g).Left)*c.scale
		y := e.staves[c.staff].y - side*2
		e.chordGlyph(c, c.staff, g, x, e.clearOf(c.staff, g, x, y, c.scale, side, 0.35), c.note())
	}
}

// heldOn reports whether a small note is followed by another of its run that is
// held as well: files put a fermata on each note of a free run, print has one, at
// its end.
func (e *engraver) heldOn(c *chord) bool {
	if !c.grace() {
		return false
	}
	for i := e.at(c) + 1; i < len(e.chords); i++ {
		if o := &e.chords[i]; o.src.Voice == c.src.Voice {
			return o.grace() && o.src.Fermata && o.src.Onset == c.src.Onset
		}
	}
	return false
}

func (e *engraver) drawFermata(c *chord) {
	if !c.src.Fermata || e.heldOn(c) {
		return
	}
	g, side := font.FermataAbove, 1.0
	if c.voice == 2 || c.staff == len(e.staves)-1 && len(e.staves) > 1 && c.voice != 1 && !c.rest() {
		g, side = font.FermataBelow, -1
	}
	x := c.x - width(g)/2 - float64(font.Bounds(g).Left)
	if c.src.WholeRest {
		x = e.middleOfMeasure(c) - width(g)/2
	}
	e.onStaff(c.staff, g, x, e.clearOf(c.staff, g, x, e.staves[c.staff].y-side*2.5, 1, side, 0.45), 1, c.note())
}

var fingerDigits = [10]font.Glyph{font.Fingering0, font.Fingering1, font.Fingering2, font.Fingering3, font.Fingering4,
	font.Fingering5, font.Fingering6, font.Fingering7, font.Fingering8, font.Fingering9}

// drawFingering stacks a chord's fingers above the upper and below the lower staff.
func (e *engraver) drawFingering(c *chord) {
	side := 1.0
	if c.staff > 0 && c.voice != 1 || c.voice == 2 {
		side = -1
	}
	n := len(c.src.Notes)
	for k := range n {
		i := k
		if side < 0 {
			i = n - 1 - k
		}
		var gs []font.Glyph
		w := 0.0
		for _, r := range strings.TrimSpace(c.src.Notes[i].Fingering) {
			if r >= '0' && r <= '9' {
				gs = append(gs, fingerDigits[r-'0'])
				w += font.Advance(fingerDigits[r-'0'])
			}
		}
		size := 0.95
		if c.grace() {
			size = 0.65 // as wide as a small head, or neighbours' fingers pile up
		}
		x := c.x - w/2*size
		if side == float64(c.dir) && c.tip != 0 {
			x -= 0.3 // clear of the stem
		}
		if len(gs) == 0 {
			continue
		}
		y := e.clearOf(c.staff, gs[0], x, e.staves[c.staff].y-side*2.2, size, side, 0.25)
		for _, g := range gs {
			e.onStaff(c.staff, g, x, y, size, c.src.Notes[i].ID)
			x += font.Advance(g) * size
		}
	}
}

// finger reports whether words are one finger, as many files store it.
func finger(text string) bool { return len(text) == 1 && text[0] >= '1' && text[0] <= '5' }

// drawFingerWord draws a finger that is stored as words.
func (e *engraver) drawFingerWord(m score.Mark) {
	const size = 0.95
	g := fingerDigits[m.Text[0]-'0']
	s, side := m.Staff-1, -1.0
	if m.Above {
		side = 1
	}
	x := e.x(m.Onset.Float()) - font.Advance(g)/2*size
	e.onStaff(s, g, x, e.clearOf(s, g, x, e.staves[s].y-side*2.2, size, side, 0.25), size, "")
}

const arpeggioRoom = 1.4

// drawArpeggio draws the wavy line left of a chord, across both staves where
// the chord of the other staff carries one too.
func (e *engraver) drawArpeggio(c *chord) {
	if c.src.Arpeggio == "" || c.rest() || c.grace() {
		return
	}
	top, bottom := e.headY(c.topHead()), e.headY(c.bottomHead())
	left := c.left
	if c.staff > 0 {
		for _, i := range e.colAt(c.src.Onset).chords {
			if o := &e.chords[i]; o.src.Arpeggio == c.src.Arpeggio && o.staff < c.staff && !o.rest() {
				return // drawn with the upper one
			}
		}
	}
	for _, i := range e.colAt(c.src.Onset).chords {
		if o := &e.chords[i]; o.src.Arpeggio == c.src.Arpeggio && !o.rest() {
			top, bottom = min(top, e.headY(o.topHead())), max(bottom, e.headY(o.bottomHead()))
			left = max(left, o.left-o.dx)
		}
	}
	x := c.x - left + 0.5
	if c.src.Arpeggio == score.ArpeggioBracket {
		w := font.Defaults.StemThickness
		e.line(x, top-0.5, x, bottom+0.5, w)
		e.line(x, top-0.5, x+0.5, top-0.5, w)
		e.line(x, bottom+0.5, x+0.5, bottom+0.5, w)
		return
	}
	// The segments of the font lie on their side: they are drawn as curves.
	const wave = 0.95
	n := max(2, int((bottom-top+1)/wave+0.5))
	step := (bottom - top + 1) / float64(n)
	y := top - 0.5
	for range n {
		for half := range 2 {
			bend := 0.42 * float64(1-2*half)
			e.draw(Item{Kind: KindCurve, X: x, Y: y, X2: x, Y2: y + step/2, C1X: x + bend, C1Y: y + step*0.15, C2X: x + bend, C2Y: y + step*0.35,
				W: 0.3, W2: 0.12, Note: c.note(), Ornament: c.ornament, Layer: e.signIf(c)})
			y += step / 2
		}
	}
	if c.src.ArpeggioDirected {
		tipY, d := top-0.9, 1.0
		if c.src.Arpeggio == score.ArpeggioDown {
			tipY, d = bottom+0.9, -1
		}
		for _, s := range [2]float64{-1, 1} {
			e.draw(Item{Kind: KindLine, X: x, Y: tipY, X2: x + s*0.4, Y2: tipY + d*0.75, W: 0.16, Note: c.note(), Ornament: c.ornament, Layer: e.signIf(c)})
		}
	}
	e.out.spots = append(e.out.spots, Spot{Note: c.note(), Ornament: c.ornament, Index: -1, Onset: c.src.Onset.Float(),
		Box: Box{x - 0.4, top - 0.9, x + 0.4, bottom + 0.9}})
}

func (e *engraver) signIf(c *chord) Layer {
	if c.ornament != "" {
		return e.signLayer()
	}
	return e.layer
}
