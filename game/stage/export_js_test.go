//go:build js

package stage

import "github.com/hajimehoshi/ebiten/v2"

// Painter draws frames onto pictures.
type Painter struct{ p painter }

// Paint builds and draws a frame.
func (p *Painter) Paint(screen *ebiten.Image, f *Frame) {
	b := screen.Bounds()
	p.p.paint(f, float64(b.Dx()), float64(b.Dy()))
	p.p.draw(screen)
}

// Build builds a frame without drawing it.
func (p *Painter) Build(f *Frame, width, height float64) { p.p.paint(f, width, height) }

// Triangles is the number of triangles built last.
func (p *Painter) Triangles() int { return len(p.p.mesh.indices) / 3 }
