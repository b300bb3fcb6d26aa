package tap_test

import (
	"math/rand"
	"testing"

	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
)

// burst taps at a rate that falls by a share a second after steady seconds.
func burst(r *rand.Rand, rate, steady, fall float64) []float64 {
	var taps []float64
	at := 0.0
	for {
		now := rate
		if at > 1000*steady {
			now = rate / (1 + fall*(at/1000-steady))
		}
		at += 1000 / now * (1 + 0.08*r.NormFloat64())
		taps = append(taps, at)
		if tap.BurstOver(taps) || len(taps) > 200 {
			return taps
		}
	}
}

func TestRate(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for _, rate := range []float64{4, 6, 9, 12} {
		var bursts [][]float64
		for range tap.Bursts(false) {
			bursts = append(bursts, burst(r, rate, 9, 0))
		}
		got := tap.RateOf(bursts, false)
		assert.InEpsilon(t, rate, got.PerSecond, 0.06)
		assert.True(t, got.Certain)
		assert.Len(t, got.Bursts, 3)
	}
}

// A burst ends soon after the hand gets slower, and the slow end does not
// lower the rate.
func TestBurstStopsWhenSlowing(t *testing.T) {
	r := rand.New(rand.NewSource(4))
	taps := burst(r, 9, 1.2, 0.5)
	last := taps[len(taps)-1]
	assert.Greater(t, last, 1200.0)
	assert.Less(t, last, 2800.0)
	got := tap.RateOf([][]float64{taps}, true)
	assert.InEpsilon(t, 9, got.PerSecond, 0.1)
	assert.True(t, got.Hint, "glass only hints")
	assert.False(t, got.Certain, "one burst is not enough")

	early := 0
	for range 300 {
		if steady := burst(r, 8, 9, 0); steady[len(steady)-1] < 2900 {
			early++
		}
	}
	assert.LessOrEqual(t, early, 15, "steady bursts are left alone")
}

func TestRateOfLittle(t *testing.T) {
	assert.Zero(t, tap.RateOf(nil, false).PerSecond)
	assert.Zero(t, tap.RateOf([][]float64{{0, 100, 200}}, false).PerSecond)
	assert.Equal(t, 2, tap.Bursts(true))
	bouncing := []float64{0, 3, 125, 128, 250, 253, 375, 378, 500, 503, 625, 628, 750}
	assert.InDelta(t, 8, tap.RateOf([][]float64{bouncing}, false).PerSecond, 0.01, "a bounce is no note")
}
