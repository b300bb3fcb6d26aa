package clock_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What is heard at a time and when it is heard are each other's inverse,
// whatever holes the sound had; and the sound never runs back.
func TestFrameAtIsTheInverseOfHeardAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := newFeed()
		f.Extra(rapid.Float64Range(-50, 250).Draw(t, "extra"))
		f.Padding(float64(rapid.IntRange(0, 8192).Draw(t, "padding")))
		f.run(10, 0)
		type stretch struct{ from, to float64 } // our frames between two holes
		var heard []stretch
		begin := (f.now - f.offset) / 1000 * rate
		for range rapid.IntRange(1, 5).Draw(t, "stretches") {
			first := begin - 9600 - f.gap
			f.run(rapid.IntRange(2, 30).Draw(t, "samples"), 0)
			at := (f.now - f.offset) / 1000 * rate
			heard = append(heard, stretch{first, at - 9600 - f.gap})
			hole := float64(rapid.IntRange(1, 2400).Draw(t, "hole"))
			f.gap += hole
			f.run(1, 0)
			begin = (f.now - f.offset) / 1000 * rate
		}
		for _, h := range heard {
			frame := rapid.Float64Range(h.from, h.to).Draw(t, "frame")
			ms, ok := f.HeardAt(frame)
			require.True(t, ok)
			back, ok := f.FrameAt(ms)
			require.True(t, ok)
			assert.InDelta(t, frame, back, 1e-3)
		}
		last := -1e9
		for ms := 2000.0; ms < f.now+500; ms += 7 {
			frame, ok := f.FrameAt(ms)
			require.True(t, ok)
			assert.GreaterOrEqual(t, frame, last-1e-6)
			last = frame
		}
	})
}
