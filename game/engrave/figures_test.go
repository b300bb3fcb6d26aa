package engrave_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/realize/music"
	"agremens/realize/score"
)

// Figures stand under their bass note, from top to bottom, clear of the staff
// and of what hangs below it.
func TestFiguredBass(t *testing.T) {
	p := decode(t, "X:1\nM:4/4\nL:1/4\nK:C bass\nC,,D,E,F,|\n")
	for onset, text := range map[int]string{0: "6", 1: "#", 2: "6 4+ 2", 3: "n 7/"} {
		at := music.Int(int64(onset))
		p.Marks = append(p.Marks, score.Mark{Onset: at, End: at, Staff: 1, Kind: score.FiguredBass, Text: text})
	}
	l := engrave.Page(p, nil, 60, engrave.Options{})
	glyphs := map[font.Glyph][]engrave.Item{}
	for _, it := range l.Items {
		if it.Kind == engrave.KindGlyph {
			glyphs[it.Glyph] = append(glyphs[it.Glyph], it)
		}
	}
	require.Len(t, glyphs[font.Figbass6], 2)
	require.Len(t, glyphs[font.Figbass4], 1)
	require.Len(t, glyphs[font.FigbassSharp], 1)
	require.Len(t, glyphs[font.FigbassNatural], 1)
	six, four, two := glyphs[font.Figbass6][1], glyphs[font.Figbass4][0], glyphs[font.Figbass2][0]
	if glyphs[font.Figbass6][0].X > six.X {
		six = glyphs[font.Figbass6][0]
	}
	assert.Less(t, six.Y, four.Y, "top to bottom")
	assert.Less(t, four.Y, two.Y)
	assert.InDelta(t, six.X, four.X, 0.2, "one column")
	for _, it := range []engrave.Item{six, four, two} {
		b := it.Bounds()
		assert.Greater(t, b.Top, l.Systems[0].Staves[0]+2, "below the staff")
		assert.InDelta(t, l.X(2), (b.Left+b.Right)/2, 1.5, "under its note")
	}
	low := glyphs[font.NoteheadBlack][0]
	for _, it := range glyphs[font.Figbass6] {
		assert.False(t, it.Bounds().Overlaps(low.Bounds()), "clear of the low note")
	}
}

// A system's end says which signature and metre the next begins with, inside
// the width; the last and those that change nothing say nothing.
func TestCourtesySignatures(t *testing.T) {
	p := decode(t, "X:1\nM:4/4\nL:1/4\nK:C\ncdef|cdef|cdef|cdef|[K:D][M:3/4]def|def|def|def|\n")
	seen := 0
	for width := 24.0; width < 120; width++ {
		l := engrave.Page(p, nil, width, engrave.Options{})
		for _, s := range l.Systems {
			sharps := 0
			for _, it := range l.Items {
				b := it.Bounds()
				if it.Kind == engrave.KindGlyph && it.Glyph == font.AccidentalSharp && it.Scale == 1 && b.Top > s.Staves[0]-4 && b.Bottom < s.Staves[0]+4 && b.Left > s.Left+(s.Right-s.Left)/2 {
					sharps++
				}
				if it.Glyph == font.AccidentalSharp {
					assert.LessOrEqual(t, b.Right, width+1e-6)
				}
			}
			if s.To == 4 {
				seen++
				assert.Equal(t, 2, sharps, "width %v", width)
			}
		}
	}
	assert.NotZero(t, seen)
}

// A page's title is centred over the music, composer and year stand at its
// right, and neither touches anything.
func TestTitle(t *testing.T) {
	p := decode(t, "X:1\nT:An Air\nC:A. Nonymous\nM:4/4\nL:1/4\nK:C\ncdef|cdef|\n")
	p.Title, p.Composer, p.Year = "An Air", "A. Nonymous", 1750
	without := engrave.Page(p, nil, 60, engrave.Options{})
	with := engrave.Page(p, nil, 60, engrave.Options{Title: true})
	added := with.Items[len(without.Items):]
	require.Greater(t, len(added), 15)
	title, by := engrave.Box{Left: 60}, engrave.Box{Left: 60}
	for _, it := range added {
		b := it.Bounds()
		assert.Less(t, b.Bottom, without.Top)
		to := &by
		if it.Scale > 1 {
			to = &title
		}
		to.Left, to.Right = min(to.Left, b.Left), max(to.Right, b.Right)
	}
	assert.InDelta(t, 30, (title.Left+title.Right)/2, 0.5)
	assert.InDelta(t, 60, by.Right, 0.3)
	assert.Less(t, with.Top, without.Top-5)
}
