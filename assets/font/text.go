package font

// Sharps, flats and naturals in a line of text come from the music font. They
// stand as high as capitals: their size beside the letters', and how far their
// middle lies above the baseline, in ems.
const (
	accidentalSize = 0.8
	accidentalRise = 0.3
)

var accidentals = map[rune]Glyph{'♯': AccidentalSharp, '♭': AccidentalFlat, '♮': AccidentalNatural}

// Set sets text on a baseline at an em of size staff spaces: put is called
// with each glyph that has ink, its place from the line's start (y down) and
// its scale. It returns the line's width. Characters the face lacks are left
// out.
func Set(style Style, text string, size float64, put func(g Glyph, x, y, scale float64)) (width float64) {
	scale := size / 4
	before := Glyph(0)
	for _, c := range text {
		if g, ok := accidentals[c]; ok {
			s := scale * accidentalSize
			put(g, width+0.03*size, -accidentalRise*size, s)
			width += Advance(g)*s + 0.06*size
			before = 0
			continue
		}
		g, ok := Letter(style, c)
		if !ok {
			continue
		}
		width += Kern(before, g) * scale
		before = g
		if c != ' ' {
			put(g, width, 0, scale)
		}
		width += Advance(g) * scale
	}
	return width
}

// Width returns how wide a line of text is at an em of size staff spaces.
func Width(style Style, text string, size float64) float64 {
	return Set(style, text, size, func(Glyph, float64, float64, float64) {})
}

// Has reports whether [Set] draws a character.
func Has(style Style, c rune) bool {
	if _, ok := accidentals[c]; ok {
		return true
	}
	_, ok := Letter(style, c)
	return ok
}
