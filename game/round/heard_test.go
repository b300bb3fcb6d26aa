package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/round"
	"agremens/realize/tap"
)

// A round that was played without the program's sound is judged at the tempo
// that was played.
func TestARoundThatWasHeard(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 3, Tap: round.RightHand})
	for _, tt := range []struct {
		name    string
		quarter float64 // ms; 500 is the plan's
		beat    float64
	}{{"as written", 500, 500}, {"slower", 750, 750}, {"faster", 400, 400}, {"all at once", 0, 500}, {"backwards", -500, 500}} {
		var wants []tap.Want
		var taps []tap.Tap
		for i, w := range plan.Wants {
			w.At = 5000 + tt.quarter*float64(i)
			wants = append(wants, w)
			taps = append(taps, tap.Tap{At: w.At + 20})
		}
		r := round.Heard(plan, wants, taps, true)
		assert.InDelta(t, tt.beat, r.Plan().BeatMS, 1e-6, tt.name)
		assert.True(t, r.Plan().Alone, tt.name)
		assert.Equal(t, round.Result, r.State(), tt.name)
		if tt.quarter > 0 {
			assert.Equal(t, len(wants), r.Result().Hit, tt.name)
			assert.InDelta(t, 20, r.Result().MeanMS, 0.5, tt.name)
		}
		assert.InDelta(t, 500, plan.BeatMS, 1e-6, "the plan itself stays")
	}
	one := round.Heard(plan, plan.Wants[:1], nil, false)
	assert.InDelta(t, 500, one.Plan().BeatMS, 1e-6, "one note has no tempo")
	assert.False(t, one.Plan().Alone)
}
