package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"agremens/realize/music"
)

// The denominator is a multiple of every one that was taken, the least, and
// within its bound.
func TestCommon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c music.Common
		least := int64(1)
		for _, d := range rapid.SliceOf(rapid.Int64Range(1, 1<<14)).Draw(t, "denominators") {
			x := music.F(1, d)
			next := least
			for next%d != 0 && next <= music.MaxCommon {
				next += least
			}
			if ok := c.Take(x); ok != (next <= music.MaxCommon) {
				t.Fatalf("%d beside %d: %t", d, least, ok)
			} else if ok {
				least = next
			}
			if c.Den() != least {
				t.Fatalf("%d, not %d", c.Den(), least)
			}
		}
	})
	var c music.Common
	assert.False(t, c.Take(music.F(1, music.MaxCommon+1)))
	assert.Equal(t, int64(1), c.Den(), "what is refused changes nothing")
	assert.True(t, c.Take(music.F(1, music.MaxCommon)))
}
