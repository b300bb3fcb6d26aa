package engrave_test

import (
	"math"
	"slices"
	"strings"

	"agremens/assets/font"
	"agremens/game/engrave"
)

// ink is a printed thing that may not touch some others.
type ink struct {
	class  string
	box    engrave.Box
	shapes []engrave.Box // of accidentals, which nest by their corners
	item   *engrave.Item
}

// classes sorts the font's glyphs by what begins their names.
var classes = []struct{ prefix, class string }{
	{"noteheadParen", ""}, {"accidentalParen", ""},
	{"notehead", "head"}, {"accidental", "accidental"}, {"rest", "rest"}, {"augmentationDot", "dot"}, {"flag", "flag"},
	{"ornament", "sign"}, {"wiggleTrill", "sign"}, {"dynamic", "dynamic"}, {"tuplet", "digit"}, {"fingering", "digit"},
	{"artic", "articulation"}, {"fermata", "sign"}, {"gClef", "clef"}, {"fClef", "clef"}, {"cClef", "clef"},
	{"keyboardPedal", "pedal"}, {"ottava", "octave"}, {"quindicesima", "octave"},
}

// touching are the pairs of classes that an engraver keeps apart.
var touching = map[[2]string]bool{}

func init() {
	solid := []string{"head", "accidental", "rest", "dot", "flag", "beam", "stem", "clef"}
	loose := []string{"sign", "dynamic", "digit", "articulation", "word", "pedal", "octave"}
	add := func(a, b string) {
		touching[[2]string{a, b}], touching[[2]string{b, a}] = true, true
	}
	for _, a := range loose {
		for _, b := range solid {
			add(a, b)
		}
		for _, b := range loose {
			add(a, b)
		}
	}
	for _, p := range [][2]string{
		{"head", "head"}, {"head", "accidental"}, {"head", "rest"}, {"head", "dot"}, {"head", "beam"}, {"head", "stem"}, {"head", "clef"},
		{"accidental", "accidental"}, {"accidental", "rest"}, {"accidental", "dot"}, {"accidental", "beam"}, {"accidental", "stem"}, {"accidental", "clef"},
		{"rest", "rest"}, {"rest", "beam"}, {"rest", "stem"}, {"rest", "flag"}, {"rest", "clef"}, {"dot", "dot"}, {"flag", "accidental"},
	} {
		add(p[0], p[1])
	}
}

// inkOf returns what of an item may touch nothing; ok is false for lines,
// curves and the like. Boxes are a little smaller than what is printed: a
// touch is no collision.
func inkOf(it *engrave.Item) (ink, bool) {
	b := it.Bounds()
	g := ink{item: it}
	x, y := 0.1, 0.1
	switch it.Kind {
	case engrave.KindBeam:
		g.class = "beam"
	case engrave.KindLine:
		if math.Abs(it.X-it.X2) > 0.01 || it.Note == "" {
			return g, false
		}
		// The stem of a head runs along its edge, up to its middle.
		g.class, x, y = "stem", 0, 0.3
	case engrave.KindGlyph:
		if !font.Music(it.Glyph) {
			g.class = "word"
			break
		}
		name := font.Name(it.Glyph)
		for _, c := range classes {
			if strings.HasPrefix(name, c.prefix) {
				g.class = c.class
				break
			}
		}
	}
	if g.class == "" {
		return g, false
	}
	if g.class == "head" {
		x = 0.2
	}
	s := 1.0
	if it.Kind == engrave.KindGlyph {
		s = min(1, float64(it.Scale))
	}
	if w := b.Right - b.Left; w < 3*x*s { // dots and thin letters
		x = w / 3 / s
	}
	if h := b.Bottom - b.Top; h < 3*y*s {
		y = h / 3 / s
	}
	g.box = engrave.Box{Left: b.Left + x*s, Top: b.Top + y*s, Right: b.Right - x*s, Bottom: b.Bottom - y*s}
	if g.class == "accidental" {
		for _, b := range engrave.Shape(it) {
			b.Left, b.Right, b.Top, b.Bottom = b.Left+0.03, b.Right-0.03, b.Top+0.03, b.Bottom-0.03
			g.shapes = append(g.shapes, b)
		}
	}
	return g, true
}

// within cuts a beam to what stands over some x: its box is larger than it is.
func (g *ink) within(left, right float64) engrave.Box {
	if g.class != "beam" {
		return g.box
	}
	it := g.item
	at := func(x float64) float64 {
		x = min(max(x, it.X), it.X2)
		return it.Y + (it.Y2-it.Y)*(x-it.X)/max(it.X2-it.X, 1e-9)
	}
	a, b := at(left), at(right)
	return engrave.Box{Left: g.box.Left, Right: g.box.Right, Top: min(a, b) + 0.1, Bottom: max(a, b) + float64(it.W) - 0.1}
}

func (g *ink) touches(h *ink) bool {
	for _, a := range g.parts() {
		for _, b := range h.parts() {
			if g.class == "beam" {
				a = g.within(b.Left, b.Right)
			}
			if h.class == "beam" {
				b = h.within(a.Left, a.Right)
			}
			if a.Overlaps(b) {
				return true
			}
		}
	}
	return false
}

func (g *ink) parts() []engrave.Box {
	if g.shapes != nil {
		return g.shapes
	}
	return []engrave.Box{g.box}
}

// belong reports whether two things are parts of one: the waves of a line, the
// letters of a word, one head for two voices.
func (g *ink) belong(h *ink) bool {
	a, b := g.item, h.item
	if a.Glyph == b.Glyph && a.Kind == b.Kind && near(a.X, b.X) && near(a.Y, b.Y) {
		return true
	}
	if g.class == h.class && near(a.Y, b.Y) && g.class != "head" && g.class != "accidental" && g.class != "rest" && a.Scale == b.Scale {
		return true
	}
	return g.class == "articulation" && h.class == "articulation" && a.Note == b.Note
}

// touchings calls found for each two things that touch and should not.
func touchings(all []ink, found func(kind string, a, b *ink)) {
	slices.SortFunc(all, func(a, b ink) int {
		switch {
		case a.box.Left < b.box.Left:
			return -1
		case a.box.Left > b.box.Left:
			return 1
		}
		return 0
	})
	for i := range all {
		for j := i + 1; j < len(all) && all[j].box.Left < all[i].box.Right; j++ {
			a, b := &all[i], &all[j]
			if !touching[[2]string{a.class, b.class}] || !a.box.Overlaps(b.box) || !a.touches(b) || a.belong(b) {
				continue
			}
			x, y := a, b
			if y.class < x.class {
				x, y = y, x
			}
			found(x.class+" on "+y.class, x, y)
		}
	}
}

// pierced calls found for the first thing of each class that a curve runs
// through.
func pierced(c *engrave.Item, all []ink, found func(g *ink)) {
	const n = 60
	b := c.Bounds()
	seen := map[string]bool{}
	for i := range all {
		g := &all[i]
		switch g.class {
		case "head", "accidental", "rest", "sign", "digit", "dynamic", "clef", "word":
		default:
			continue
		}
		if seen[g.class] || !b.Overlaps(g.box) {
			continue
		}
		for _, in := range g.parts() {
			in.Left, in.Right, in.Top, in.Bottom = in.Left+0.05, in.Right-0.05, in.Top+0.1, in.Bottom-0.1
			for k := 1; k < n && !seen[g.class]; k++ {
				if x, y := c.At(float64(k) / n); x > in.Left && x < in.Right && y > in.Top && y < in.Bottom {
					seen[g.class] = true
					found(g)
				}
			}
		}
	}
}
