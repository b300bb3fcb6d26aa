//go:build js

package stage

import (
	"image"
	"math"

	"agremens/assets/font"
	"agremens/game/engrave"

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
	fresh   []fresh // waits for the next upload
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

// fresh is coverage that is not in the texture yet.
type fresh struct {
	x, y     int
	coverage *image.Alpha
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
	a.fresh = a.fresh[:0]
	x, y, _ := a.packer.place(3, 3) // the white pixels, at 1, 1
	opaque := image.NewAlpha(image.Rect(0, 0, 3, 3))
	for i := range opaque.Pix {
		opaque.Pix[i] = 0xff
	}
	a.fresh = append(a.fresh, fresh{x, y, opaque})
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
		a.fresh = append(a.fresh, fresh{px, py, r.coverage})
		c.srcX, c.srcY, c.width, c.height = float32(px), float32(py), float32(r.width), float32(r.height)
	}
	a.cells[key] = c
	return c, true
}

// upload puts what is fresh into the texture as white of that opacity. An
// upload is dear however small it is, so what is in one row of the packer
// goes together: nothing older lies between.
func (a *atlas) upload() {
	for from := 0; from < len(a.fresh); {
		first := a.fresh[from]
		right, tall, to := first.x, 0, from
		for ; to < len(a.fresh) && a.fresh[to].y == first.y; to++ {
			size := a.fresh[to].coverage.Rect
			right, tall = a.fresh[to].x+size.Dx(), max(tall, size.Dy())
		}
		width := right - first.x
		if n := 4 * width * tall; cap(a.pixels) < n {
			a.pixels = make([]byte, n)
		}
		pixels := a.pixels[:4*width*tall]
		clear(pixels)
		for _, f := range a.fresh[from:to] {
			size := f.coverage.Rect
			for y := range size.Dy() {
				for x := range size.Dx() {
					v := f.coverage.Pix[y*f.coverage.Stride+x]
					i := 4 * (y*width + f.x - first.x + x)
					pixels[i], pixels[i+1], pixels[i+2], pixels[i+3] = v, v, v, v
				}
			}
		}
		a.texture.SubImage(image.Rect(first.x, first.y, right, first.y+tall)).(*ebiten.Image).WritePixels(pixels)
		from = to
	}
	clear(a.fresh) // the pictures are needed no more
	a.fresh = a.fresh[:0]
}

// prepare makes the glyphs of items for every place between pixels, so that
// none has to be made while they move. It stops where the texture is three
// quarters full: the rest is made as it comes.
func (a *atlas) prepare(items []engrave.Item, scale float64) {
	type form struct {
		glyph font.Glyph
		scale float32
	}
	made := map[form]bool{}
	for i := range items {
		it := &items[i]
		f := form{it.Glyph, it.Scale}
		if it.Kind != engrave.KindGlyph || made[f] {
			continue
		}
		made[f] = true
		size := scale * float64(it.Scale)
		for step, n := 0, steps(size); step < n && a.packer.y < a.packer.size*3/4; step++ {
			a.cell(it.Glyph, size, float64(step)/float64(n))
		}
	}
}
