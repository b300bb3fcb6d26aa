package engrave

import "agremens/assets/font"

// Sizes of the ink of a tap that has just been made, in staff spaces.
const (
	struckDrop  = 2.2 // from the staff's lowest line
	struckScale = 3.0
)

// Struck draws a tap as it is made: a dot under the staff of its hand (1 is the
// upper) at x, so that two players' taps stand apart.
func (l *Layout) Struck(x float64, staff int) Item {
	y := struckDrop
	if len(l.Systems) > 0 && len(l.Systems[0].Staves) > 0 {
		staves := l.Systems[0].Staves
		y += staves[min(max(staff-1, 0), len(staves)-1)] + 2
	}
	dot := font.Bounds(font.AugmentationDot)
	return Item{Kind: KindGlyph, Layer: LayerMark, Glyph: font.AugmentationDot, Scale: struckScale,
		X: x - float64(dot.Left+dot.Right)/2*struckScale, Y: y - float64(dot.Top+dot.Bottom)/2*struckScale}
}
