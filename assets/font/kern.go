package font

import (
	_ "embed" // the pairs
	"strings"
)

// kerns holds, for each style and left character that has any, its style, its
// place in textChars, a count, then so many right characters in order and
// their moves in 1/1000 em.
//
//go:embed kerns.bin
var kerns string

// Kern returns how much nearer or further apart than their advances two
// letters of one style stand, in staff spaces; negative is nearer. It is 0 for
// letters of two styles and for music.
func Kern(left, right Glyph) float64 {
	style, i := letterOf(left)
	other, j := letterOf(right)
	if i < 0 || j < 0 || style != other {
		return 0
	}
	for at := 0; at < len(kerns); {
		n := int(kerns[at+2])
		if Style(kerns[at]) == style && int(kerns[at+1]) == i {
			if k := strings.IndexByte(kerns[at+3:at+3+n], byte(j)); k >= 0 {
				return float64(int8(kerns[at+3+n+k])) * unit
			}
			return 0
		}
		at += 3 + 2*n
	}
	return 0
}

// letterOf returns a letter's style and place in textChars, -1 for music.
func letterOf(g Glyph) (Style, int) {
	switch {
	case g >= italicGlyphs:
		return Italic, int(g - italicGlyphs)
	case g >= romanGlyphs:
		return Roman, int(g - romanGlyphs)
	}
	return Roman, -1
}
