//go:build js

package stage_test

import (
	"fmt"
	"image/color"
	"os"
	"sync/atomic"
	"testing"

	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/game/stage"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// These run in a browser: pictures can only be read while Ebiten runs.
// GOOS=js GOARCH=wasm go test -exec wasmbrowsertest ./game/stage

type runner struct {
	m       *testing.M
	started bool
	code    chan int
}

func (r *runner) Update() error {
	if !r.started {
		r.started = true
		go func() { r.code <- r.m.Run() }()
	}
	if h := hook.Load(); h != nil {
		h.update()
	}
	select {
	case code := <-r.code:
		r.code <- code
		return ebiten.Termination
	default:
		return nil
	}
}

func (r *runner) Draw(*ebiten.Image) {
	if h := hook.Load(); h != nil {
		h.draw()
	}
}

// hooks are what a benchmark does in the frames of the running program.
type hooks struct{ update, draw func() }

var hook atomic.Pointer[hooks]

func (r *runner) Layout(int, int) (int, int) { return 320, 240 }

func TestMain(m *testing.M) {
	r := &runner{m: m, code: make(chan int, 1)}
	if err := ebiten.RunGameWithOptions(r, &ebiten.RunGameOptions{InitUnfocused: true}); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	os.Exit(<-r.code)
}

// plain is a theme in which every kind of thing is told by its colour.
func plain() stage.Theme {
	black := color.NRGBA{A: 255}
	return stage.Theme{
		Paper: color.NRGBA{255, 255, 255, 255}, Ink: black, Staff: black, Played: black,
		Mark: color.NRGBA{B: 255, A: 255}, Accent: color.NRGBA{R: 255, A: 255}, Tint: color.NRGBA{G: 255, A: 255},
	}
}

func glyph(t *testing.T, name string) font.Glyph {
	g, ok := font.ByName(name)
	require.True(t, ok, name)
	return g
}

// staff is five lines from x 0 to 20 with the middle one at y.
func staff(y float64) []engrave.Item {
	var items []engrave.Item
	for i := -2; i <= 2; i++ {
		items = append(items, engrave.Item{Kind: engrave.KindLine, Layer: engrave.LayerStaff,
			X: 0, Y: y + float64(i), X2: 20, Y2: y + float64(i), W: 0.13})
	}
	return items
}

// picture draws a frame and gives access to its pixels.
func picture(t *testing.T, f stage.Frame, width, height int) func(x, y int) color.NRGBA {
	t.Helper()
	img := ebiten.NewImage(width, height)
	defer img.Deallocate()
	var p stage.Painter
	p.Paint(img, &f)
	pixels := make([]byte, 4*width*height)
	img.ReadPixels(pixels)
	return func(x, y int) color.NRGBA {
		i := 4 * (y*width + x)
		return color.NRGBA{pixels[i], pixels[i+1], pixels[i+2], pixels[i+3]}
	}
}

// Staff lines are whole pixels, black from edge to edge, and equally far apart,
// wherever the staff stands.
func TestStaffLinesAreSharp(t *testing.T) {
	for _, c := range []struct {
		scale  float64
		y      float64
		scroll float64
		thick  int
	}{
		{scale: 8, y: 4, thick: 1},
		{scale: 8, y: 4.31, thick: 1},
		{scale: 10, y: 4.05, scroll: 0.777, thick: 1},
		{scale: 16, y: 5.5, thick: 2},
		{scale: 24, y: 4.9, scroll: -0.3, thick: 3},
	} {
		t.Run(fmt.Sprintf("scale %v y %v", c.scale, c.y), func(t *testing.T) {
			at := picture(t, stage.Frame{Layout: &engrave.Layout{Items: staff(c.y)}, Scale: c.scale, ScrollY: c.scroll, Theme: plain()}, 64, 240)
			var starts []int
			dark := 0
			for y := 0; y < 240; y++ {
				v := at(32, y)
				if v.R != 255 {
					assert.Equal(t, color.NRGBA{A: 255}, v, "row %d", y)
					if dark == 0 {
						starts = append(starts, y)
					}
					dark++
				} else if dark > 0 {
					assert.Equal(t, c.thick, dark, "the line above row %d", y)
					dark = 0
				}
			}
			require.Len(t, starts, 5)
			for i := 1; i < 5; i++ {
				assert.Equal(t, int(c.scale), starts[i]-starts[i-1])
			}
		})
	}
}

// A note head on a line is symmetric about that line.
func TestHeadSitsOnItsLine(t *testing.T) {
	black := glyph(t, "noteheadBlack")
	for _, scale := range []float64{8, 12, 16, 24, 36} {
		t.Run(fmt.Sprint(scale), func(t *testing.T) {
			const y = 3.37
			width := 64
			draw := func(items []engrave.Item) func(x, y int) color.NRGBA {
				return picture(t, stage.Frame{Layout: &engrave.Layout{Items: items}, Scale: scale, Theme: plain()}, width, 200)
			}
			line := draw(staff(y)[2:3])
			first, last := extent(func(r int) bool { return line(0, r).R < 128 }, 200)
			head := draw([]engrave.Item{{Kind: engrave.KindGlyph, Layer: engrave.LayerInk, Glyph: black, Scale: 1, X: 0.5, Y: y}})
			top, bottom := extent(func(r int) bool {
				for x := range width {
					if head(x, r).R < 128 {
						return true
					}
				}
				return false
			}, 200)
			assert.InDelta(t, first+last, top+bottom, 1, "head rows %d to %d, line rows %d to %d", top, bottom, first, last)
			assert.InDelta(t, scale, bottom-top+1, 2, "a head is as tall as a space")
		})
	}
}

func extent(dark func(row int) bool, rows int) (first, last int) {
	first = -1
	for r := range rows {
		if dark(r) {
			if first < 0 {
				first = r
			}
			last = r
		}
	}
	return first, last
}

// What is thinner than a pixel is pale in proportion; what moves by part of a
// pixel changes smoothly and keeps its weight.
func TestStemsKeepTheirWeight(t *testing.T) {
	const scale = 10.0
	for _, thick := range []float64{0.05, 0.12, 0.3} {
		for _, shift := range []float64{0, 0.02, 0.05, 0.08} {
			items := []engrave.Item{{Kind: engrave.KindLine, Layer: engrave.LayerInk, X: 1 + shift, Y: 0, X2: 1 + shift, Y2: 5, W: float32(thick)}}
			at := picture(t, stage.Frame{Layout: &engrave.Layout{Items: items}, Scale: scale, Theme: plain()}, 32, 64)
			weight := 0.0
			for x := range 32 {
				weight += float64(255-at(x, 25).R) / 255
			}
			assert.InDelta(t, thick*scale, weight, 0.2, "stem %v wide, shifted %v", thick, shift)
		}
	}
}

func TestPickedOut(t *testing.T) {
	black := glyph(t, "noteheadBlack")
	layout := &engrave.Layout{
		Items: []engrave.Item{
			{Kind: engrave.KindGlyph, Layer: engrave.LayerInk, Glyph: black, Scale: 1, X: 1, Y: 2, Note: "n1"},
			{Kind: engrave.KindGlyph, Layer: engrave.LayerPlayed, Glyph: black, Scale: 1, X: 4, Y: 2, Note: "n1", Ornament: "o1"},
			{Kind: engrave.KindGlyph, Layer: engrave.LayerInk, Glyph: black, Scale: 1, X: 7, Y: 2, Note: "n2"},
		},
		Spots: []engrave.Spot{
			{Note: "n1", Index: -1, Box: engrave.Box{Left: 1, Top: 1.5, Right: 2.2, Bottom: 2.5}},
			{Note: "n1", Ornament: "o1", Index: 0, Box: engrave.Box{Left: 4, Top: 1.5, Right: 5.2, Bottom: 2.5}},
			{Note: "n2", Index: -1, Box: engrave.Box{Left: 7, Top: 1.5, Right: 8.2, Bottom: 2.5}},
		},
	}
	const scale = 10
	f := stage.Frame{Layout: layout, Scale: scale, Theme: plain(), Sounding: layout.Spots[:1], Selected: "o1",
		Line: true, LineX: 95, Marks: []engrave.Item{{Kind: engrave.KindRect, X: 9, Y: 0, X2: 9.3, Y2: 1}}}
	at := picture(t, f, 120, 64)
	red, black4, green, blue, white := color.NRGBA{R: 255, A: 255}, color.NRGBA{A: 255}, color.NRGBA{G: 255, A: 255}, color.NRGBA{B: 255, A: 255}, color.NRGBA{255, 255, 255, 255}
	assert.Equal(t, red, at(16, 20), "the printed note that sounds")
	assert.Equal(t, red, at(46, 20), "the played note of the chosen ornament")
	assert.Equal(t, black4, at(76, 20), "another note")
	assert.Equal(t, green, at(37, 20), "the ground of the chosen ornament")
	assert.Equal(t, white, at(62, 20), "beside it")
	assert.Equal(t, blue, at(91, 5), "a mark")
	assert.Equal(t, red, at(95, 40), "the fixed line")

	f.Pale = []engrave.Box{{Left: -1, Top: -1, Right: 3, Bottom: 20}}
	at = picture(t, f, 120, 64)
	assert.Greater(t, at(16, 20).G, uint8(120), "shaded")
	assert.Equal(t, red, at(46, 20), "not shaded")

	f = stage.Frame{Layout: layout, Scale: scale, Theme: plain(), Note: "n2"}
	at = picture(t, f, 120, 64)
	assert.Equal(t, red, at(76, 20), "a chosen note that is no ornament's")
	assert.Equal(t, green, at(67, 20), "its ground")
	assert.Equal(t, black4, at(16, 20), "another note")
}

func TestPinnedHead(t *testing.T) {
	black := glyph(t, "noteheadBlack")
	layout := &engrave.Layout{
		Items:     append(staff(4), engrave.Item{Kind: engrave.KindGlyph, Layer: engrave.LayerInk, Glyph: black, Scale: 1, X: 5, Y: 2.5}),
		Head:      staff(4)[2:3],
		HeadWidth: 3,
	}
	at := picture(t, stage.Frame{Layout: layout, Scale: 10, ScrollX: 4, Pinned: true, Theme: plain()}, 120, 64)
	assert.Equal(t, uint8(255), at(16, 25).R, "the note that passes beneath the head is hidden")
	assert.Equal(t, uint8(255), at(16, 20).R, "so are its staff lines")
	assert.Equal(t, uint8(0), at(16, 40).R, "the head's own line stands")
	assert.Equal(t, uint8(0), at(80, 20).R, "the staff goes on")
}

// Our own work for a frame allocates nothing once a piece has been seen.
func TestNothingIsAllocated(t *testing.T) {
	black := glyph(t, "noteheadBlack")
	items := staff(4)
	for i := range 400 {
		x := float64(i) * 0.6
		items = append(items,
			engrave.Item{Kind: engrave.KindGlyph, Layer: engrave.LayerInk, Glyph: black, Scale: 1, X: x, Y: 4, Note: "n"},
			engrave.Item{Kind: engrave.KindLine, Layer: engrave.LayerInk, X: x, Y: 0, X2: x, Y2: 3.5, W: 0.12},
			engrave.Item{Kind: engrave.KindCurve, Layer: engrave.LayerInk, X: x, Y: 6, C1X: x + .2, C1Y: 7, C2X: x + .4, C2Y: 7, X2: x + .6, Y2: 6, W: 0.2, W2: 0.1})
	}
	f := stage.Frame{Layout: &engrave.Layout{Items: items}, Scale: 12, Theme: plain(), Playing: true, Line: true, LineX: 100, Selected: "o1"}
	var p stage.Painter
	for i := range 200 { // every place between pixels
		f.ScrollX = float64(i) * 0.11
		p.Build(&f, 1024, 400)
	}
	require.Greater(t, p.Triangles(), 1000)
	f.ScrollX = 0
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		f.ScrollX += 0.013
		p.Build(&f, 1024, 400)
	}))
}

// BenchmarkBuild is our own time for a frame with about 1,500 glyphs, 500
// lines and 100 curves in view.
func BenchmarkBuild(b *testing.B) {
	black, _ := font.ByName("noteheadBlack")
	var items []engrave.Item
	for i := range 20000 {
		x := float64(i) * 0.06
		items = append(items, engrave.Item{Kind: engrave.KindGlyph, Layer: engrave.LayerInk, Glyph: black, Scale: 1, X: x, Y: 4})
		if i%3 == 0 {
			items = append(items, engrave.Item{Kind: engrave.KindLine, Layer: engrave.LayerInk, X: x, Y: 0, X2: x, Y2: 3.5, W: 0.12})
		}
		if i%15 == 0 {
			items = append(items, engrave.Item{Kind: engrave.KindCurve, Layer: engrave.LayerInk, X: x, Y: 6, C1X: x + .2, C1Y: 7, C2X: x + .4, C2Y: 7, X2: x + .6, Y2: 6, W: 0.2, W2: 0.1})
		}
	}
	f := stage.Frame{Layout: &engrave.Layout{Items: items}, Scale: 12, Theme: plain(), Playing: true}
	var p stage.Painter
	p.Build(&f, 1024, 400)
	b.ReportAllocs()
	for b.Loop() {
		f.ScrollX += 0.013
		p.Build(&f, 1024, 400)
	}
}
