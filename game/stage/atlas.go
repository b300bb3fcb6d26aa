//go:build js

package stage

import (
	"image"
	"math"

	"agremens/assets/font"

	"github.com/hajimehoshi/ebiten/v2"
)

// Sizes of the texture in pixels: it starts small and grows when one frame
// needs more than fits.
const (
	atlasStart = 1024
	atlasMost  = 4096
)

// white is the place of an opaque white pixel in the texture, whose
// neighbours are white too.
const white = 2.5

// atlas is the texture with every glyph in use.
type atlas struct {
	texture *ebiten.Image
	packer  packer
	cells   map[cellKey]cell
	shift   float64 // where origins stand below a pixel's corner, 0 or 0.5
	full    bool    // something found no room since the last check
	pixels  []byte
	outline []font.Segment
}

// cellKey names a glyph at a size and a place between pixels.
type cellKey struct {
	glyph font.Glyph
	size  uint16 // 64ths of a pixel a staff space
	step  uint8  // parts of a pixel the origin stands to the right
}

// cell is where a glyph stands in the texture and around its origin.
type cell struct {
	srcX, srcY    float32
	left, top     float32 // from the origin's pixel
	width, height float32
	dx, dy        float64 // of the origin within its pixel
}

func newAtlas(shift float64) *atlas {
	a := &atlas{shift: shift}
	a.reset(atlasStart)
	return a
}

func (a *atlas) reset(size int) {
	if a.texture == nil || a.texture.Bounds().Dx() != size {
		if a.texture != nil {
			a.texture.Deallocate()
		}
		a.texture = ebiten.NewImageWithOptions(image.Rect(0, 0, size, size), &ebiten.NewImageOptions{Unmanaged: true})
	} else {
		a.texture.Clear()
	}
	a.cells = map[cellKey]cell{}
	a.packer = packer{size: size}
	a.full = false
	x, y, _ := a.packer.place(3, 3) // the white pixels, at 1, 1
	a.write(x, y, 3, 3, func(int) byte { return 0xff })
}

// makeRoom grows or empties the texture when something found no room; it
// reports whether the frame must be built again.
func (a *atlas) makeRoom() bool {
	if !a.full {
		return false
	}
	a.reset(min(2*a.packer.size, atlasMost))
	return true
}

// steps is how many places between two pixels a glyph of a size is made for.
// Small glyphs need more, or they blur; large ones are moved by filtering.
func steps(size float64) int {
	switch {
	case size < 18:
		return 4
	case size < 32:
		return 2
	}
	return 1
}

// cell returns a glyph's cell, which it makes at the first call; x is the
// place of its origin in pixels, scale pixels a staff space.
func (a *atlas) cell(g font.Glyph, scale, x float64) (c cell, ok bool) {
	n := steps(scale)
	step := 0
	if n > 1 {
		step = int(math.Floor((x-math.Floor(x))*float64(n)+0.5)) % n
	}
	key := cellKey{g, uint16(min(scale*64+0.5, math.MaxUint16)), uint8(step)}
	if c, ok := a.cells[key]; ok {
		return c, true
	}
	dx := float64(step) / float64(n)
	r := rasterise(g, float64(key.size)/64, dx, a.shift, &a.outline)
	c = cell{left: float32(r.left), top: float32(r.top), dx: dx, dy: a.shift}
	if r.coverage != nil {
		px, py, placed := a.packer.place(r.width, r.height)
		if !placed {
			a.full = true
			return cell{}, false
		}
		a.write(px, py, r.width, r.height, func(i int) byte {
			return r.coverage.Pix[i/r.width*r.coverage.Stride+i%r.width]
		})
		c.srcX, c.srcY, c.width, c.height = float32(px), float32(py), float32(r.width), float32(r.height)
	}
	a.cells[key] = c
	return c, true
}

// write puts coverage into the texture as white of that opacity.
func (a *atlas) write(x, y, width, height int, coverage func(i int) byte) {
	n := width * height
	if cap(a.pixels) < 4*n {
		a.pixels = make([]byte, 4*n)
	}
	pixels := a.pixels[:4*n]
	for i := range n {
		v := coverage(i)
		pixels[4*i], pixels[4*i+1], pixels[4*i+2], pixels[4*i+3] = v, v, v, v
	}
	a.texture.SubImage(image.Rect(x, y, x+width, y+height)).(*ebiten.Image).WritePixels(pixels)
}
