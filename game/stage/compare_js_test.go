//go:build js

package stage_test

import (
	"encoding/base64"
	"math"
	"regexp"
	"strconv"
	"syscall/js"
	"testing"

	"agremens/assets"
	"agremens/game/engrave"
	"agremens/game/stage"
	"agremens/realize"
	"agremens/realize/codec/abc"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// How the two drawers are compared: at this many pixels a staff space a
// staff line is three pixels thick.
const compared = 24

// Both drawers make the same picture. Ours for the screen puts staff lines,
// heads and letters on whole pixels and gives lines whole thicknesses, so an
// edge may lie one pixel beside the browser's own drawing of the SVG: a pixel
// counts as different only where it is clearly darker or lighter than all that
// lies within one pixel of it. What is left are tips of curves and serifs; a
// glyph or line that is missing, in another place or of another size changes
// more than one dark pixel in a thousand.
func TestBothDrawersAgree(t *testing.T) {
	for _, entry := range assets.Passages() {
		t.Run(entry.ID, func(t *testing.T) {
			p, _, err := abc.Decode(entry.ABC)
			require.NoError(t, err)
			l := engrave.Page(p, realize.Read(p, realize.Taste{}), 56, engrave.Options{Played: true, Title: true})
			share, ink := disagreement(t, l, l)
			t.Logf("%.3f per thousand of %d dark pixels differ", 1000*share, ink)
			assert.Less(t, share, 0.001)
			require.Greater(t, ink, 10000)
		})
	}
}

// The comparison must see one missing note, and one moved by half a space.
func TestADifferenceIsSeen(t *testing.T) {
	p, _, err := abc.Decode("X:1\nM:4/4\nL:1/4\nK:C\ncdef|\n")
	require.NoError(t, err)
	l := engrave.Page(p, nil, 40, engrave.Options{})
	head := -1
	for i, it := range l.Items {
		if it.Note != "" && it.Kind == engrave.KindGlyph {
			head = i
			break
		}
	}
	require.GreaterOrEqual(t, head, 0)
	same, _ := disagreement(t, l, l)
	assert.Less(t, same, 0.001)
	for name, change := range map[string]func(*engrave.Item){
		"missing": func(it *engrave.Item) { it.Scale = 0.01 },
		"moved":   func(it *engrave.Item) { it.Y += 0.5 },
		"smaller": func(it *engrave.Item) { it.Scale = 0.8 },
	} {
		other := *l
		other.Items = append([]engrave.Item(nil), l.Items...)
		change(&other.Items[head])
		share, _ := disagreement(t, l, &other)
		assert.Greater(t, share, 0.001, name)
	}
}

// disagreement draws one layout by each drawer and returns which share of the
// dark pixels differ.
func disagreement(t *testing.T, ours, svg *engrave.Layout) (share float64, ink int) {
	t.Helper()
	left, top := ours.Left-1, ours.Top-1
	width, height := int(math.Ceil((ours.Right+1-left)*compared)), int(math.Ceil((ours.Bottom+1-top)*compared))
	at := picture(t, stage.Frame{Layout: ours, Scale: compared, ScrollX: left, ScrollY: top, Theme: plainInk()}, width, height)
	// Ours stands on whole pixels; so does the other.
	offset := func(v float64) float64 { return math.Round(-v*compared) + v*compared }
	other := browserDraws(t, engrave.SVG(svg, engrave.SVGOptions{Space: compared, Paper: "#fff"}), width, height, offset(left), offset(top))
	a := make([]int, width*height)
	b := make([]int, width*height)
	for y := range height {
		for x := range width {
			a[y*width+x], b[y*width+x] = int(at(x, y).R), int(other[4*(y*width+x)])
		}
	}
	different := 0
	for y := 1; y < height-1; y++ {
		for x := 1; x < width-1; x++ {
			i := y*width + x
			if a[i] < 128 || b[i] < 128 {
				ink++
			}
			if alone(a, b, i, width) || alone(b, a, i, width) {
				different++
			}
		}
	}
	return float64(different) / float64(max(ink, 1)), ink
}

// alone reports whether a pixel is darker or lighter than everything within
// one pixel of it in the other picture.
func alone(a, b []int, i, width int) bool {
	const tolerance = 96
	least, most := 255, 0
	for dy := -width; dy <= width; dy += width {
		for dx := -1; dx <= 1; dx++ {
			v := b[i+dy+dx]
			least, most = min(least, v), max(most, v)
		}
	}
	return a[i] < least-tolerance || a[i] > most+tolerance
}

func plainInk() stage.Theme {
	t := plain()
	t.Mark, t.Accent, t.Tint = t.Ink, t.Ink, t.Paper
	return t
}

// browserDraws lets the browser draw an SVG document and returns its pixels.
func browserDraws(t *testing.T, svg []byte, width, height int, dx, dy float64) []byte {
	t.Helper()
	document := js.Global().Get("document")
	img := document.Call("createElement", "img")
	done := make(chan bool, 1)
	for event, ok := range map[string]bool{"load": true, "error": false} {
		f := js.FuncOf(func(js.Value, []js.Value) any { done <- ok; return nil })
		defer f.Release()
		img.Call("addEventListener", event, f)
	}
	img.Set("src", "data:image/svg+xml;base64,"+base64.StdEncoding.EncodeToString(svg))
	require.True(t, <-done, "the browser reads the SVG")
	canvas := document.Call("createElement", "canvas")
	canvas.Set("width", width)
	canvas.Set("height", height)
	context := canvas.Call("getContext", "2d")
	context.Set("fillStyle", "#fff")
	context.Call("fillRect", 0, 0, width, height)
	// The size may be a fraction; the image's own would be rounded.
	size := regexp.MustCompile(`width="([\d.]+)" height="([\d.]+)"`).FindSubmatch(svg)
	require.Len(t, size, 3)
	w, _ := strconv.ParseFloat(string(size[1]), 64)
	h, _ := strconv.ParseFloat(string(size[2]), 64)
	context.Call("drawImage", img, dx, dy, w, h)
	pixels := context.Call("getImageData", 0, 0, width, height).Get("data")
	out := make([]byte, 4*width*height)
	js.CopyBytesToGo(out, pixels)
	return out
}
