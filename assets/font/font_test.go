package font_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets/font"
)

// The values are Bravura's SMuFL metadata (bravura_metadata.json, fontVersion
// 1.392), y turned down.
func TestMetadata(t *testing.T) {
	box := font.Bounds(font.NoteheadBlack)
	assert.InDelta(t, 0, box.Left, 1e-6)
	assert.InDelta(t, -0.5, box.Top, 1e-6)
	assert.InDelta(t, 1.18, box.Right, 1e-6)
	assert.InDelta(t, 0.5, box.Bottom, 1e-6)
	p, ok := font.Anchor(font.NoteheadBlack, font.StemUpSE)
	require.True(t, ok)
	assert.InDelta(t, 1.18, p.X, 1e-6)
	assert.InDelta(t, -0.168, p.Y, 1e-6)
	_, ok = font.Anchor(font.RestQuarter, font.StemUpSE)
	assert.False(t, ok)
	assert.Equal(t, 0.13, font.Defaults.StaffLineThickness)
	assert.Equal(t, 0.5, font.Defaults.BeamThickness)
}

func TestNames(t *testing.T) {
	for g := range font.Glyph(font.Count) {
		name := font.Name(g)
		if !font.Music(g) {
			assert.Empty(t, name)
			continue
		}
		back, ok := font.ByName(name)
		assert.True(t, ok && back == g, name)
	}
	_, ok := font.ByName("noSuchGlyph")
	assert.False(t, ok)
}

// Every outline stays in its box, blown up by a sampling error, and fills it.
func TestOutlinesFillTheirBoxes(t *testing.T) {
	const slack = 0.02
	for g := range font.Glyph(font.Count) {
		box := font.Bounds(g)
		var at font.Point
		seen := font.Box{Left: 99, Top: 99, Right: -99, Bottom: -99}
		for _, s := range font.Outline(g) {
			end := s.P[[4]int{0, 0, 1, 2}[s.Op]]
			if s.Op != font.Move {
				for i := range 17 {
					p := along(at, s, float32(i)/16)
					seen.Left, seen.Right = min(seen.Left, p.X), max(seen.Right, p.X)
					seen.Top, seen.Bottom = min(seen.Top, p.Y), max(seen.Bottom, p.Y)
				}
			}
			at = end
		}
		if seen.Left == 99 {
			assert.Equal(t, font.Box{}, box, "%d is empty", g)
			continue
		}
		name := font.Name(g)
		assert.InDelta(t, box.Left, seen.Left, slack, "%d %s", g, name)
		assert.InDelta(t, box.Top, seen.Top, slack, "%d %s", g, name)
		assert.InDelta(t, box.Right, seen.Right, slack, "%d %s", g, name)
		assert.InDelta(t, box.Bottom, seen.Bottom, slack, "%d %s", g, name)
	}
}

func along(from font.Point, s font.Segment, t float32) font.Point {
	pts := []font.Point{from, s.P[0], s.P[1], s.P[2]}[:[4]int{2, 2, 3, 4}[s.Op]]
	for n := len(pts) - 1; n > 0; n-- {
		for i := range n {
			pts[i].X += (pts[i+1].X - pts[i].X) * t
			pts[i].Y += (pts[i+1].Y - pts[i].Y) * t
		}
	}
	return pts[0]
}

func TestLetters(t *testing.T) {
	for _, c := range "Andante 0123456789 (z) äéß–…’œ" {
		for _, style := range []font.Style{font.Roman, font.Italic} {
			_, ok := font.Letter(style, c)
			assert.True(t, ok, "%q", c)
		}
	}
	_, ok := font.Letter(font.Roman, '漢')
	assert.False(t, ok)
	a, _ := font.Letter(font.Roman, 'A')
	assert.InDelta(t, 2*font.Advance(a), font.Width(font.Roman, "AA", 4), 1e-9)
}

func BenchmarkOutline(b *testing.B) {
	var buf []font.Segment
	for b.Loop() {
		for g := range font.Glyph(font.Count) {
			buf = font.AppendOutline(buf[:0], g)
		}
	}
}

// The face tells which pairs stand closer: T and o, A and V in any text face
// (from memory); letters without a pair stand at their advances.
func TestKerning(t *testing.T) {
	pair := func(style font.Style, text string) float64 {
		var g [2]font.Glyph
		for i, c := range text {
			l, ok := font.Letter(style, c)
			require.True(t, ok)
			g[i] = l
		}
		return font.Kern(g[0], g[1])
	}
	for _, style := range []font.Style{font.Roman, font.Italic} {
		assert.Less(t, pair(style, "To"), 0.0)
		assert.Less(t, pair(style, "AV"), 0.0)
		assert.Zero(t, pair(style, "HH"))
		assert.Less(t, font.Width(style, "AVAV", 4), font.Width(style, "AAVV", 4))
	}
	roman, _ := font.Letter(font.Roman, 'T')
	italic, _ := font.Letter(font.Italic, 'o')
	assert.Zero(t, font.Kern(roman, italic), "across styles")
	assert.Zero(t, font.Kern(font.NoteheadBlack, roman), "after music")
}
