package perf_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize/music"
	"agremens/realize/perf"
)

// Bars of two quarters: the first, the second, the first again, the third.
func TestWay(t *testing.T) {
	way := perf.Way{{Onset: music.Int(0), Written: music.Int(0), Measure: 0}, {Onset: music.Int(2), Written: music.Int(2), Measure: 1},
		{Onset: music.Int(4), Written: music.Int(0), Measure: 0}, {Onset: music.Int(6), Written: music.Int(4), Measure: 2}}
	for _, tc := range []struct{ played, written float64 }{{-1, -1}, {0, 0}, {3, 3}, {4, 0}, {5.5, 1.5}, {6, 4}, {9, 7}} {
		assert.Equal(t, tc.written, way.Written(tc.played), "%v", tc.played)
	}
	for i, leaps := range []bool{false, false, true, true} {
		assert.Equal(t, leaps, way.Leaps(i), "leg %d", i)
	}
	assert.Equal(t, 5.0, perf.Way(nil).Written(5), "the written order")
	assert.Equal(t, -1, perf.Way(nil).At(5))
	assert.False(t, perf.Way(nil).Leaps(0))
}
