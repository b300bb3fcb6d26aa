package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/round"
)

// The beats of the count-in are numbered from each bar's first; before the
// clock is known, before the first click and once the music has begun there is
// no number.
func TestTheBeatThatIsCounted(t *testing.T) {
	const start = 96_000 // two seconds
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, CountIn: 2, Beat: true, Subdivide: true})
	c := &steadyClock{}
	r := round.Start(plan, start, c, nil)
	zero, _ := c.HeardAt(start)
	for _, tt := range []struct {
		ms   float64
		beat int
		ok   bool
	}{
		{-1, 0, false}, {1, 1, true}, {251, 1, true}, {499, 1, true}, {501, 2, true}, {1001, 3, true}, {1499, 3, true},
		{1501, 1, true}, {2001, 2, true}, {2999, 3, true}, {3001, 0, false},
	} {
		beat, ok := r.Count(zero+tt.ms, c)
		assert.Equal(t, tt.ok, ok, "%v ms", tt.ms)
		if ok {
			assert.Equal(t, tt.beat, beat, "%v ms", tt.ms)
		}
	}
	_, ok := r.Count(zero+1, &unknownClock{})
	assert.False(t, ok)

	silent := round.Start(build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Beat: true}), 0, c, nil)
	_, ok = silent.Count(1001, c)
	assert.False(t, ok, "nothing is counted")
	pickup := round.Start(build(t, round.Settings{From: 0, To: 2, Tap: round.RightHand, CountIn: 1}), 0, c, nil)
	beat, _ := pickup.Count(1000+2001, c)
	assert.Equal(t, 2, beat, "the pickup is the third beat of its bar")
}

// unknownClock has heard nothing yet.
type unknownClock struct{ steadyClock }

func (*unknownClock) FrameAt(float64) (float64, bool) { return 0, false }
