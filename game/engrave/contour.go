package engrave

import "agremens/assets/font"

// contour is how far an accidental reaches to both sides, band by band down the
// page, so that neighbours stand as near as their shapes allow.
type contour struct {
	glyph font.Glyph
	top   float64 // of the first band, from the origin
	edges [][2]float32
}

const (
	contourStep  = 0.25 // a band's height
	contourClear = 0.08 // what a band keeps free above and below its ink
)

// shapes cuts an accidental into the bands of its outline; the origin is the
// glyph's. With its parentheses it is a box.
func shapes(h *head, scale float64) []Box {
	for i := range contours {
		c := &contours[i]
		if c.glyph != h.acc || h.paren {
			continue
		}
		out := make([]Box, len(c.edges))
		for j, e := range c.edges {
			y := c.top + float64(j)*contourStep
			out[j] = Box{float64(e[0]), y, float64(e[1]), y + contourStep}.placed(scale, 0, 0)
		}
		return out
	}
	return layers(h, scale)
}
