//go:build js

package stage

import (
	"image"
	"math"

	"agremens/assets/font"

	"golang.org/x/image/vector"
)

// raster is a glyph in pixels: coverage from 0 to 255 in rows.
type raster struct {
	coverage      *image.Alpha
	left, top     int // of the picture from the glyph's origin, in pixels
	width, height int
}

// rasterise fills a glyph's outline at so many pixels a staff space, with its
// origin dx and dy (0 to 1) right of and below a pixel's corner. The scratch
// holds outline segments between calls.
func rasterise(g font.Glyph, scale, dx, dy float64, scratch *[]font.Segment) raster {
	b := font.Bounds(g)
	r := raster{
		left: int(math.Floor(float64(b.Left)*scale + dx)),
		top:  int(math.Floor(float64(b.Top)*scale + dy)),
	}
	r.width = int(math.Ceil(float64(b.Right)*scale+dx)) - r.left
	r.height = int(math.Ceil(float64(b.Bottom)*scale+dy)) - r.top
	if r.width <= 0 || r.height <= 0 {
		return raster{}
	}
	z := vector.NewRasterizer(r.width, r.height)
	at := func(p font.Point) (x, y float32) {
		return float32(float64(p.X)*scale + dx - float64(r.left)), float32(float64(p.Y)*scale + dy - float64(r.top))
	}
	*scratch = font.AppendOutline((*scratch)[:0], g)
	for _, s := range *scratch {
		x, y := at(s.P[0])
		switch s.Op {
		case font.Move:
			z.ClosePath()
			z.MoveTo(x, y)
		case font.Line:
			z.LineTo(x, y)
		case font.Quad:
			x1, y1 := at(s.P[1])
			z.QuadTo(x, y, x1, y1)
		case font.Cubic:
			x1, y1 := at(s.P[1])
			x2, y2 := at(s.P[2])
			z.CubeTo(x, y, x1, y1, x2, y2)
		}
	}
	z.ClosePath()
	r.coverage = image.NewAlpha(image.Rect(0, 0, r.width, r.height))
	z.Draw(r.coverage, r.coverage.Bounds(), image.Opaque, image.Point{})
	return r
}
