package font_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/assets/font"
)

// Sharps, flats and naturals keep their place in a line of text; a character
// without a glyph takes none.
func TestAccidentalsInText(t *testing.T) {
	for text, want := range map[string][]font.Glyph{
		"♭":  {font.AccidentalFlat},
		"♯♮": {font.AccidentalSharp, font.AccidentalNatural},
		"☃":  nil,
	} {
		var got []font.Glyph
		w := font.Set(font.Roman, text, 4, func(g font.Glyph, x, y, scale float64) {
			got = append(got, g)
			assert.Negative(t, y, "above the baseline")
			assert.Less(t, scale, 1.0)
		})
		assert.Equal(t, want, got, text)
		assert.Equal(t, want == nil, w == 0, text)
	}
	assert.Greater(t, font.Width(font.Roman, "in B♭ Minor", 4), font.Width(font.Roman, "in B Minor", 4))
	assert.True(t, font.Has(font.Italic, '♯'))
	assert.False(t, font.Has(font.Italic, '☃'))
}
