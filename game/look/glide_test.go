package look_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"agremens/game/engrave"
	"agremens/game/look"
)

func TestGlide(t *testing.T) {
	l := &engrave.Layout{HeadWidth: 8}
	const width = 100
	line := look.Line(l, width)
	// A near place is left from where it stood; after half a second it is there.
	assert.Equal(t, -10.0, look.Glide(0, -10, l, width))
	assert.Equal(t, 25.0, look.Glide(0, 25, l, width))
	assert.Zero(t, look.Glide(0.5, -10, l, width))
	assert.Zero(t, look.Glide(-1, -10, l, width))
	rapid.Check(t, func(t *rapid.T) {
		leap := rapid.Float64Range(-5000, 5000).Draw(t, "leap")
		a := rapid.Float64Range(0, 1).Draw(t, "seconds")
		b := a + rapid.Float64Range(0, 1).Draw(t, "later")
		x, y := look.Glide(a, leap, l, width), look.Glide(b, leap, l, width)
		assert.LessOrEqual(t, max(y, -y), max(x, -x), "it only comes nearer")
		assert.GreaterOrEqual(t, line+x, l.HeadWidth, "the sounding place stays in sight")
		assert.LessOrEqual(t, line+x, float64(width))
	})
}
