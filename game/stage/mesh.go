//go:build js

package stage

import (
	"image/color"
	"math"

	"github.com/hajimehoshi/ebiten/v2"
)

// ink is a colour as a vertex carries it: straight, 0 to 1.
type ink struct{ r, g, b, a float32 }

func inkOf(c color.NRGBA) ink {
	return ink{float32(c.R) / 255, float32(c.G) / 255, float32(c.B) / 255, float32(c.A) / 255}
}

func (k ink) faded(by float32) ink { k.a *= by; return k }

// mesh is the triangles of one frame, in device pixels.
type mesh struct {
	vertices []ebiten.Vertex
	indices  []uint32
}

func (m *mesh) clear() { m.vertices, m.indices = m.vertices[:0], m.indices[:0] }

// solid adds a vertex of plain colour.
func (m *mesh) solid(x, y float64, k ink) {
	m.vertices = append(m.vertices, ebiten.Vertex{
		DstX: float32(x), DstY: float32(y), SrcX: white, SrcY: white,
		ColorR: k.r, ColorG: k.g, ColorB: k.b, ColorA: k.a,
	})
}

// picture adds a rectangle of the texture.
func (m *mesh) picture(x, y float32, c cell, k ink) {
	n := uint32(len(m.vertices))
	for i := range 4 {
		dx, dy := float32(i&1)*c.width, float32(i>>1)*c.height
		m.vertices = append(m.vertices, ebiten.Vertex{
			DstX: x + dx, DstY: y + dy, SrcX: c.srcX + dx, SrcY: c.srcY + dy,
			ColorR: k.r, ColorG: k.g, ColorB: k.b, ColorA: k.a,
		})
	}
	m.indices = append(m.indices, n, n+1, n+2, n+1, n+3, n+2)
}

// hard adds a rectangle with hard edges.
func (m *mesh) hard(left, top, right, bottom float64, k ink) {
	m.fading(left, top, right, bottom, k, k)
}

// fading adds a rectangle that goes from one ink at the left to another.
func (m *mesh) fading(left, top, right, bottom float64, from, to ink) {
	n := uint32(len(m.vertices))
	m.solid(left, top, from)
	m.solid(right, top, to)
	m.solid(left, bottom, from)
	m.solid(right, bottom, to)
	m.indices = append(m.indices, n, n+1, n+2, n+1, n+3, n+2)
}

// axis is a direction of length 1 and how far a shape reaches both ways.
type axis struct{ x, y, half float64 }

// soft adds a parallelogram around a point. Its edges fade over one pixel, so
// that it moves smoothly; what is thinner than a pixel gets paler instead.
func (m *mesh) soft(x, y float64, u, v axis, k ink) {
	sine := math.Abs(u.x*v.y - u.y*v.x)
	if sine < 1e-6 {
		return
	}
	d := 0.5 / sine
	for _, h := range [2]float64{u.half, v.half} {
		if h < d {
			k.a *= float32(2 * h / (h + d))
		}
	}
	n := uint32(len(m.vertices))
	inner, clear := max(0, u.half-d), k.faded(0)
	innerV := max(0, v.half-d)
	for i := range 8 {
		hu, hv, c := inner, innerV, k
		if i >= 4 {
			hu, hv, c = u.half+d, v.half+d, clear
		}
		if i&1 == 0 {
			hu = -hu
		}
		if i&2 == 0 {
			hv = -hv
		}
		m.solid(x+u.x*hu+v.x*hv, y+u.y*hu+v.y*hv, c)
	}
	m.indices = append(m.indices,
		n, n+1, n+2, n+1, n+3, n+2, // middle
		n, n+1, n+4, n+1, n+5, n+4, // one long side
		n+2, n+3, n+6, n+3, n+7, n+6, // the other
		n, n+2, n+4, n+2, n+6, n+4,
		n+1, n+3, n+5, n+3, n+7, n+5)
}

// softRect adds an upright rectangle with soft edges.
func (m *mesh) softRect(left, top, right, bottom float64, k ink) {
	m.soft((left+right)/2, (top+bottom)/2, axis{1, 0, (right - left) / 2}, axis{0, 1, (bottom - top) / 2}, k)
}

// band adds one more cross-section of a soft band: the middle, the normal and
// the half width there. From the second call on it is joined to the one before.
func (m *mesh) band(first bool, x, y, nx, ny, half float64, k ink) {
	if half < 0.5 {
		k.a *= float32(2 * half / (half + 0.5))
	}
	n := uint32(len(m.vertices))
	outer, inner, clear := half+0.5, max(0, half-0.5), k.faded(0)
	m.solid(x-nx*outer, y-ny*outer, clear)
	m.solid(x-nx*inner, y-ny*inner, k)
	m.solid(x+nx*inner, y+ny*inner, k)
	m.solid(x+nx*outer, y+ny*outer, clear)
	if first {
		return
	}
	for i := n - 4; i < n-1; i++ {
		m.indices = append(m.indices, i, i+1, i+4, i+1, i+5, i+4)
	}
}
