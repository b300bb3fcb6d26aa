//go:build !js

package stage_test

import (
	"testing"

	"agremens/game/engrave"
	"agremens/game/stage"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// What is found in view is what looking at every item finds.
func TestVisible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 60).Draw(t, "n")
		items := make([]engrave.Item, n)
		for i := range items {
			x := rapid.Float64Range(-50, 400).Draw(t, "x")
			y := rapid.Float64Range(-20, 20).Draw(t, "y")
			wide := rapid.SampledFrom([]float64{0.2, 3, 23.9, 24.1, 200}).Draw(t, "wide")
			items[i] = engrave.Item{Kind: engrave.KindRect, Layer: engrave.Layer(rapid.IntRange(0, stage.Layers-1).Draw(t, "layer")),
				X: x, Y: y, X2: x + wide, Y2: y + 1}
		}
		left := rapid.Float64Range(-100, 450).Draw(t, "left")
		right := left + rapid.Float64Range(0, 100).Draw(t, "width")
		for layer := range stage.Layers {
			var want []int32
			for i := range items {
				b := items[i].Bounds()
				if int(items[i].Layer) == layer && float32(b.Left) <= float32(right) && float32(b.Right) >= float32(left) &&
					float32(b.Top) <= 10 && float32(b.Bottom) >= -10 {
					want = append(want, int32(i))
				}
			}
			got := stage.Visible(items, layer, float32(left), float32(right), -10, 10)
			assert.ElementsMatch(t, want, got)
		}
	})
}

// A rectangle placed by the packer overlaps no other and stays inside.
func TestPacker(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const size = 64
		place := stage.Packer(size)
		var taken [size][size]bool
		for range 200 {
			w, h := rapid.IntRange(1, 20).Draw(t, "w"), rapid.IntRange(1, 20).Draw(t, "h")
			x, y, ok := place(w, h)
			if !ok {
				continue
			}
			for j := y - 1; j <= y+h; j++ {
				for i := x - 1; i <= x+w; i++ {
					if j < y || j == y+h || i < x || i == x+w {
						if i >= 0 && j >= 0 && i < size && j < size {
							assert.False(t, taken[j][i], "no pixel between two pictures at %d, %d", i, j)
						}
						continue
					}
					if !assert.Less(t, max(i, j), size) {
						return
					}
					taken[j][i] = true
				}
			}
		}
	})
}

func TestGrid(t *testing.T) {
	for _, c := range []struct{ scale, want float64 }{
		{0, 4}, {4.9, 4}, {5, 6}, {12, 12}, {12.9, 12}, {13.1, 14}, {47.5, 48},
	} {
		assert.Equal(t, c.want, stage.Grid(c.scale), "scale %v", c.scale)
	}
}
