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

// evenTaps are n taps with clicks 750 ms apart, by turns offset-swing and
// offset+swing from them. Their spread is 1.4826 times the swing, as the
// median distance counts it. The first two clicks have no tap.
func evenTaps(n int, offset, swing float64) (clicks, taps []float64) {
	for i := range n + 2 {
		click := 1000 + 750*float64(i)
		clicks = append(clicks, click)
		if i >= 2 {
			taps = append(taps, click+offset+swing*float64(2*(i%2)-1))
		}
	}
	return clicks, taps
}

// Delays from -260 ms (somebody well ahead of the click, on a quick device)
// to +480 ms (wireless headphones) are promised. What lies beyond would be as
// near to the click beside it, and is read as belonging to that.
func TestCalibrateReach(t *testing.T) {
	for _, tt := range []struct{ offset, found float64 }{
		{-260, -260}, {-61, -61}, {0, 0}, {480, 480}, {-270, 480}, {495, -255},
	} {
		clicks, taps := evenTaps(30, tt.offset, 0)
		c := clock.Calibrate(clicks, taps)
		assert.InDelta(t, tt.found, c.OffsetMS, 1e-6, "%v ms", tt.offset)
		assert.Equal(t, clock.Sure, c.Trust, "%v ms", tt.offset)
	}
}

// The reach goes with the clicks: at half their distance it is half as wide.
func TestCalibrateReachOfQuickClicks(t *testing.T) {
	clicks, taps := evenTaps(30, 0, 0)
	for i := range clicks {
		clicks[i] = 1000 + (clicks[i]-1000)/2
	}
	for i := range taps {
		taps[i] = 1000 + (taps[i]-1000)/2 - 130
	}
	assert.InDelta(t, -130, clock.Calibrate(clicks, taps).OffsetMS, 1e-6)
	for i := range taps {
		taps[i] -= 5
	}
	assert.InDelta(t, 240, clock.Calibrate(clicks, taps).OffsetMS, 1e-6)
}

func TestCalibrateTrust(t *testing.T) {
	tests := []struct {
		name         string
		n            int
		swing        float64
		taken, given int // taps left out, taps doubled
		trust        clock.Trust
	}{
		{"eight taps are enough to know anything", 8, 0, 0, 0, clock.Sure},
		{"seven of eight clicks answered", 8, 0, 1, 0, clock.Unknown},
		// 1.2533 · 1.4826 · swing / √30 is the standard error: 7 ms at 20.6.
		{"a standard error just below 7 ms may be judged by", 30, 20.4, 0, 0, clock.Sure},
		{"just above it is rough", 30, 20.8, 0, 0, clock.Rough},
		{"more taps find the same middle surely", 60, 20.8, 0, 0, clock.Sure},
		// Untrained tappers spread up to 60 ms; 90 is nobody in step.
		{"a spread just below 90 ms is in step", 30, 60.5, 0, 0, clock.Rough},
		{"just above it is not", 30, 61, 0, 0, clock.Unknown},
		{"two answers for each click without one", 30, 0, 10, 0, clock.Sure},
		{"one click more without", 30, 0, 11, 0, clock.Unknown},
		{"two answers for each tap too many", 30, 0, 0, 15, clock.Sure},
		{"one tap more too many", 30, 0, 0, 16, clock.Unknown},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			clicks, taps := evenTaps(tt.n, 40, tt.swing)
			taps = taps[tt.taken:]
			var all []float64
			for i, at := range taps {
				all = append(all, at)
				if i < tt.given {
					all = append(all, at+90)
				}
			}
			c := clock.Calibrate(clicks, all)
			assert.Equal(t, tt.trust, c.Trust, "%+v", c)
			assert.Equal(t, tt.n-tt.taken, c.Used)
			assert.Equal(t, tt.taken, c.Missed)
			assert.Equal(t, tt.given, c.Rejected)
		})
	}
}

// The error is what statistics says of a median: √(π/2)·spread/√n, and never
// nothing, because a machine that taps without any spread is not without error.
func TestCalibrateError(t *testing.T) {
	clicks, taps := evenTaps(36, 40, 10)
	c := clock.Calibrate(clicks, taps)
	assert.InDelta(t, 14.826, c.SpreadMS, 1e-6)
	assert.InDelta(t, 1.2533*14.826/6, c.ErrorMS, 1e-3)
	clicks, taps = evenTaps(36, 40, 0)
	assert.InDelta(t, 1.2533*1/6, clock.Calibrate(clicks, taps).ErrorMS, 1e-3)
}

// In the first two clicks the tapper falls in; taps there say nothing.
func TestCalibrateSettling(t *testing.T) {
	clicks, taps := evenTaps(8, 0, 0)
	taps = append([]float64{clicks[0] + 150, clicks[1] + 150}, taps...)
	c := clock.Calibrate(clicks, taps)
	assert.Equal(t, 8, c.Used)
	assert.Zero(t, c.OffsetMS)
	assert.Equal(t, clock.Sure, c.Trust)
	assert.Equal(t, clock.Calibration{}, clock.Calibrate(clicks[:9], taps[:9]), "seven clicks after those are too few to begin with")
}

// A tap far from the others is a slip: farther than anybody in step is (60 ms),
// and than three times what this tapper spreads.
func TestCalibrateSlips(t *testing.T) {
	for _, tt := range []struct {
		swing, slip float64
		rejected    int
	}{
		{0, 59, 0}, {0, 61, 1}, {0, -59, 0}, {0, -61, 1},
		{30, 130, 0}, {30, 136, 1}, // 3 · 1.4826 · 30 = 133.4
	} {
		clicks, taps := evenTaps(30, 40, tt.swing)
		taps[11] = clicks[13] + 40 + tt.slip
		c := clock.Calibrate(clicks, taps)
		assert.Equal(t, tt.rejected, c.Rejected, "%+v", tt)
		assert.Equal(t, 30-tt.rejected, c.Used, "%+v", tt)
	}
}

// Nobody who plays plays so far off so evenly: from 80 ms on, with a spread of
// at most 45, and in as many notes as a calibration asks for.
func TestLooksWrongEdges(t *testing.T) {
	for _, tt := range []struct {
		mean, spread float64
		hits         int
		wrong        bool
	}{
		{80, 45, 8, true}, {-80, 45, 8, true},
		{79.9, 45, 8, false}, {-79.9, 45, 8, false}, {80, 45.1, 8, false}, {80, 45, 7, false},
	} {
		assert.Equal(t, tt.wrong, clock.LooksWrong(tt.mean, tt.spread, tt.hits), "%+v", tt)
	}
}
