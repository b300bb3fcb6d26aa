package clock_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/synth/clock"
)

// tapper taps with clicks 750 ms apart: offset and spread in ms.
func tapper(random *rand.Rand, n int, offset, spread float64) (clicks, taps []float64) {
	for i := range n {
		click := 1000 + 750*float64(i)
		clicks = append(clicks, click)
		taps = append(taps, click+offset+spread*random.NormFloat64())
	}
	return clicks, taps
}

func TestCalibrate(t *testing.T) {
	// Spreads: untrained tappers 20 to 60 ms, musicians 10 to 30.
	for _, offset := range []float64{-60, 0, 70, 200, 320} {
		for _, spread := range []float64{8, 25, 45} {
			worst, sure := 0.0, 0
			for seed := range uint64(50) {
				clicks, taps := tapper(rand.New(rand.NewPCG(seed, 9)), 32, offset, spread)
				c := clock.Calibrate(clicks, taps)
				assert.NotEqual(t, clock.Unknown, c.Trust, "%v ± %v, seed %d: %+v", offset, spread, seed, c)
				assert.InDelta(t, offset, c.OffsetMS, 4*max(c.ErrorMS, spread/4), "%v ± %v", offset, spread)
				worst = max(worst, abs(c.OffsetMS-offset))
				if c.Trust == clock.Sure {
					sure++
				}
			}
			if spread <= 25 {
				assert.Less(t, worst, 17.0)
				assert.Greater(t, sure, 40, "%v ± %v", offset, spread)
			}
		}
	}
}

func TestCalibrateOutliers(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	clicks, taps := tapper(random, 32, 40, 15)
	taps[7] += 210                         // slept
	taps[20] -= 190                        // hasty
	taps = append(taps[:12], taps[13:]...) // one left out
	c := clock.Calibrate(clicks, taps)
	assert.InDelta(t, 40, c.OffsetMS, 10)
	assert.Equal(t, 2, c.Rejected)
	assert.Equal(t, 1, c.Missed)
	assert.Equal(t, clock.Sure, c.Trust)
}

func TestCalibrateDoubleTaps(t *testing.T) {
	clicks, taps := tapper(rand.New(rand.NewPCG(3, 2)), 32, 40, 10)
	var doubled []float64
	for i, at := range taps {
		doubled = append(doubled, at)
		if i == 10 || i == 15 {
			doubled = append(doubled, at+90)
		}
	}
	c := clock.Calibrate(clicks, doubled)
	assert.InDelta(t, 40, c.OffsetMS, 8)
	assert.Equal(t, 2, c.Rejected)
}

func TestCalibrateRefuses(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	clicks, _ := tapper(random, 32, 0, 0)
	assert.Equal(t, clock.Unknown, clock.Calibrate(nil, nil).Trust)
	assert.Equal(t, clock.Unknown, clock.Calibrate(clicks, nil).Trust)
	assert.Equal(t, clock.Unknown, clock.Calibrate(clicks, []float64{2600, 3300, 4100}).Trust, "too few")
	var free []float64 // taps at another tempo: they wander through the clicks
	for i := range 40 {
		free = append(free, 1100+613*float64(i))
	}
	assert.Equal(t, clock.Unknown, clock.Calibrate(clicks, free).Trust, "not in step")
}

func TestLooksWrong(t *testing.T) {
	assert.True(t, clock.LooksWrong(180, 25, 20), "wireless headphones, no calibration")
	assert.True(t, clock.LooksWrong(-120, 30, 20))
	assert.False(t, clock.LooksWrong(-40, 25, 20), "an ordinary lead")
	assert.False(t, clock.LooksWrong(120, 90, 20), "a player who is lost")
	assert.False(t, clock.LooksWrong(180, 25, 3), "too few to tell")
}

func abs(x float64) float64 { return max(x, -x) }
