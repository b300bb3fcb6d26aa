package engrave

import (
	"math"

	"agremens/assets/font"
	"agremens/realize/score"
)

// Kind says what an item draws and which of its fields count.
type Kind uint8

// Kinds of items.
const (
	// KindGlyph: Glyph at X, Y, Scale times its size.
	KindGlyph Kind = iota
	// KindLine: from X, Y to X2, Y2, W wide, with square ends.
	KindLine
	// KindRect: filled, from X, Y to X2, Y2.
	KindRect
	// KindBeam: a parallelogram with upright sides; its upper edge runs from
	// X, Y to X2, Y2, and it is W high.
	KindBeam
	// KindCurve: a slur, tie or brace: a cubic from X, Y over C1 and C2 to
	// X2, Y2, W wide in the middle and W2 at its ends.
	KindCurve
)

// Layer is what an item belongs to: items are drawn in the order of their
// layers, and a drawer may give each its own ink.
type Layer uint8

// Layers.
const (
	LayerStaff  Layer = iota // staff lines, bar lines
	LayerInk                 // everything printed
	LayerSign                // ornament signs and small notes
	LayerPlayed              // the line as played
	LayerMark                // marks of a round
)

// Item is one thing to draw. All lengths are staff spaces, y down.
type Item struct {
	Kind     Kind
	Layer    Layer
	Glyph    font.Glyph
	Scale    float32
	W, W2    float32
	X, Y     float64
	X2, Y2   float64
	C1X, C1Y float64
	C2X, C2Y float64
	Note     score.ID // the note it belongs to, if one
	Ornament string   // the ornament it belongs to, if one
}

// Box is an extent in staff spaces, y down.
type Box struct{ Left, Top, Right, Bottom float64 }

// Bounds returns the extent of an item.
func (it *Item) Bounds() Box {
	switch it.Kind {
	case KindGlyph:
		b, s := font.Bounds(it.Glyph), float64(it.Scale)
		return Box{it.X + float64(b.Left)*s, it.Y + float64(b.Top)*s, it.X + float64(b.Right)*s, it.Y + float64(b.Bottom)*s}
	case KindBeam:
		return Box{min(it.X, it.X2), min(it.Y, it.Y2), max(it.X, it.X2), max(it.Y, it.Y2) + float64(it.W)}
	case KindLine:
		w := float64(it.W) / 2
		return Box{min(it.X, it.X2) - w, min(it.Y, it.Y2) - w, max(it.X, it.X2) + w, max(it.Y, it.Y2) + w}
	case KindCurve:
		b := Box{min(it.X, it.X2), min(it.Y, it.Y2), max(it.X, it.X2), max(it.Y, it.Y2)}
		for i := 1; i < 8; i++ {
			x, y := it.curve(float64(i) / 8)
			b = b.union(Box{x, y, x, y})
		}
		return b
	}
	return Box{min(it.X, it.X2), min(it.Y, it.Y2), max(it.X, it.X2), max(it.Y, it.Y2)}
}

// curve returns a point of a KindCurve's middle line.
func (it *Item) curve(t float64) (x, y float64) {
	u := 1 - t
	a, b, c, d := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return a*it.X + b*it.C1X + c*it.C2X + d*it.X2, a*it.Y + b*it.C1Y + c*it.C2Y + d*it.Y2
}

// part returns the part of a KindCurve from t0 to t1, as thick as the whole.
func (it Item) part(t0, t1 float64) Item {
	x0, y0 := it.curve(t0)
	x1, y1 := it.curve(t1)
	slope := func(t float64) (dx, dy float64) { // a third of the way at the speed at t
		u := 1 - t
		a, b, c := u*u, 2*u*t, t*t
		f := t1 - t0
		return f * (a*(it.C1X-it.X) + b*(it.C2X-it.C1X) + c*(it.X2-it.C2X)), f * (a*(it.C1Y-it.Y) + b*(it.C2Y-it.C1Y) + c*(it.Y2-it.C2Y))
	}
	dx0, dy0 := slope(t0)
	dx1, dy1 := slope(t1)
	it.X, it.Y, it.X2, it.Y2 = x0, y0, x1, y1
	it.C1X, it.C1Y, it.C2X, it.C2Y = x0+dx0, y0+dy0, x1-dx1, y1-dy1
	return it
}

// placed returns the item scaled about the origin, then moved.
func (it Item) placed(scale, dx, dy float64) Item {
	it.Scale *= float32(scale)
	it.W, it.W2 = it.W*float32(scale), it.W2*float32(scale)
	it.X, it.Y = it.X*scale+dx, it.Y*scale+dy
	it.X2, it.Y2 = it.X2*scale+dx, it.Y2*scale+dy
	it.C1X, it.C1Y = it.C1X*scale+dx, it.C1Y*scale+dy
	it.C2X, it.C2Y = it.C2X*scale+dx, it.C2Y*scale+dy
	return it
}

func (b Box) union(c Box) Box {
	return Box{min(b.Left, c.Left), min(b.Top, c.Top), max(b.Right, c.Right), max(b.Bottom, c.Bottom)}
}

func (b Box) placed(scale, dx, dy float64) Box {
	return Box{b.Left*scale + dx, b.Top*scale + dy, b.Right*scale + dx, b.Bottom*scale + dy}
}

// Overlaps reports whether two boxes share more than an edge.
func (b Box) Overlaps(c Box) bool {
	return b.Left < c.Right && c.Left < b.Right && b.Top < c.Bottom && c.Top < b.Bottom
}

// XY is a point in staff spaces, y down.
type XY struct{ X, Y float64 }

// Band returns the outline of a KindCurve: a cubic along one edge (points 0
// to 3) and one back along the other (4 to 7).
func (it *Item) Band() [8]XY {
	// Across the curve at its ends and at its control points; a control point
	// moves by 4/3 of what the middle shall move.
	across := func(dx, dy float64) (float64, float64) {
		n := math.Hypot(dx, dy)
		if n == 0 {
			return 0, 0
		}
		return -dy / n, dx / n
	}
	sx, sy := across(it.C1X-it.X, it.C1Y-it.Y)
	ex, ey := across(it.X2-it.C2X, it.Y2-it.C2Y)
	mx, my := across(it.X2-it.X, it.Y2-it.Y)
	end := float64(it.W2) / 2
	mid := (float64(it.W)/2 - end/4) * 4 / 3
	return [8]XY{
		{it.X + sx*end, it.Y + sy*end}, {it.C1X + mx*mid, it.C1Y + my*mid}, {it.C2X + mx*mid, it.C2Y + my*mid}, {it.X2 + ex*end, it.Y2 + ey*end},
		{it.X2 - ex*end, it.Y2 - ey*end}, {it.C2X - mx*mid, it.C2Y - my*mid}, {it.C1X - mx*mid, it.C1Y - my*mid}, {it.X - sx*end, it.Y - sy*end},
	}
}
