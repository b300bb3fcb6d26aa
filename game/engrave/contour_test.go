package engrave

import (
	"fmt"
	"go/format"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/assets/font"
)

// traced follows a glyph's outline and returns how far it reaches left and right
// in bands of contourStep, each with contourClear of what is above and below it.
func traced(g font.Glyph) contour {
	b := font.Bounds(g)
	first := math.Floor(float64(b.Top) / contourStep)
	n := int(math.Ceil(float64(b.Bottom)/contourStep) - first)
	c := contour{glyph: g, top: first * contourStep, edges: make([][2]float32, n)}
	for i := range c.edges {
		c.edges[i] = [2]float32{100, -100}
	}
	mark := func(x, y float64) {
		for i := range c.edges {
			top := c.top + float64(i)*contourStep
			if y > top-contourClear && y < top+contourStep+contourClear {
				e := &c.edges[i]
				e[0], e[1] = min(e[0], float32(math.Floor(x*100)/100)), max(e[1], float32(math.Ceil(x*100)/100))
			}
		}
	}
	var at, start font.Point
	for _, s := range font.Outline(g) {
		p := [4]font.Point{at}
		copy(p[1:], s.P[:])
		last := map[font.Op]int{font.Move: 1, font.Line: 1, font.Quad: 2, font.Cubic: 3}[s.Op]
		if s.Op == font.Move {
			straight(mark, at, start)
			at, start = s.P[0], s.P[0]
			continue
		}
		for k := 0; k <= 100; k++ {
			q := p
			t := float32(k) / 100
			for m := last; m > 0; m-- {
				for i := range m {
					q[i] = font.Point{X: q[i].X + (q[i+1].X-q[i].X)*t, Y: q[i].Y + (q[i+1].Y-q[i].Y)*t}
				}
			}
			mark(float64(q[0].X), float64(q[0].Y))
		}
		at = p[last]
	}
	straight(mark, at, start)
	return c
}

func straight(mark func(x, y float64), a, b font.Point) {
	for k := 0; k <= 100; k++ {
		t := float64(k) / 100
		mark(float64(a.X)*(1-t)+float64(b.X)*t, float64(a.Y)*(1-t)+float64(b.Y)*t)
	}
}

// TestContoursAreTheOutlines holds the table against the font's outlines;
// AGREMENS_UPDATE writes it.
func TestContoursAreTheOutlines(t *testing.T) {
	var b strings.Builder
	b.WriteString("package engrave\n\n// contours are traced from the font's outlines (TestContoursAreTheOutlines).\nvar contours = [...]contour{\n")
	for _, g := range []font.Glyph{font.AccidentalFlat, font.AccidentalNatural, font.AccidentalSharp, font.AccidentalDoubleSharp,
		font.AccidentalDoubleFlat, font.AccidentalNaturalFlat, font.AccidentalNaturalSharp} {
		name := font.Name(g)
		c := traced(g)
		fmt.Fprintf(&b, "\t{%d, %v, [][2]float32{", g, c.top)
		for i, e := range c.edges {
			if i > 0 {
				b.WriteString(", ")
			}
			fmt.Fprintf(&b, "{%v, %v}", e[0], e[1])
		}
		fmt.Fprintf(&b, "}}, // %s\n", name)
	}
	b.WriteString("}\n")
	want, err := format.Source([]byte(b.String()))
	require.NoError(t, err)
	const file = "contours.go"
	if os.Getenv("AGREMENS_UPDATE") != "" {
		require.NoError(t, os.WriteFile(file, want, 0o666))
	}
	got, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got))
}
