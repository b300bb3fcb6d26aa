package tap_test

import (
	"math"
	"math/rand"
	"testing"

	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A player of known ability: at tempo able four rounds in five are clean, and
// the odds fall by half with every 8 % more tempo.
func cleanAt(tempo, able float64) float64 {
	odds := 4 * math.Exp2(-math.Log(tempo/able)/0.077)
	return odds / (1 + odds)
}

// The climb settles near the tempo at which four rounds in five are clean,
// from wherever it starts.
func TestClimbSettles(t *testing.T) {
	const goal = 100.0
	for _, able := range []float64{45, 60, 75, 85} {
		for _, start := range []float64{40, 60} {
			r := rand.New(rand.NewSource(int64(able*1000 + start)))
			var settled, took, clean []float64
			for range 400 {
				c := tap.NewClimb(start, goal)
				sum, n, near, good := 0.0, 0, 0, 0
				for round := 1; round <= 80 && c.State != tap.Arrived; round++ {
					if near == 0 && math.Abs(math.Log(c.Tempo/able)) < 0.1 {
						near = round
					}
					ok := r.Float64() < cleanAt(c.Tempo, able)
					if round > 20 {
						sum += math.Log(c.Tempo)
						n++
						if ok {
							good++
						}
					}
					c = c.Next(tap.Outcome{Clean: ok})
				}
				if n > 0 {
					settled = append(settled, math.Exp(sum/float64(n)))
					clean = append(clean, float64(good)/float64(n))
				}
				took = append(took, float64(near))
			}
			t.Logf("able %2.0f from %2.0f: settles at %5.1f, %2.0f %% of rounds clean, near (10 %%) after %4.1f rounds",
				able, start, average(settled), 100*average(clean), average(took))
			assert.InEpsilon(t, able, average(settled), 0.08)
			assert.InDelta(t, 0.8, average(clean), 0.05)
			assert.LessOrEqual(t, average(took), 9.0)
		}
	}
}

// Who is able beyond the goal arrives there within a lesson.
func TestClimbArrives(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	var took []float64
	for range 400 {
		c := tap.NewClimb(50, 100)
		round := 0
		for ; c.State != tap.Arrived && round < 60; round++ {
			c = c.Next(tap.Outcome{Clean: r.Float64() < cleanAt(c.Tempo, 115)})
		}
		require.Equal(t, tap.Arrived, c.State)
		took = append(took, float64(round))
	}
	t.Logf("able 115 of 100, from 50: arrives after %.1f rounds", average(took))
	assert.LessOrEqual(t, average(took), 14.0)
}

func average(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}

func TestClimbRules(t *testing.T) {
	clean, unclean := tap.Outcome{Clean: true}, tap.Outcome{}
	t.Run("stays between 30 % of the goal and the goal", func(t *testing.T) {
		assert.Equal(t, 100.0, tap.NewClimb(300, 100).Tempo)
		c := tap.NewClimb(1, 100)
		assert.Equal(t, 30.0, c.Tempo)
		for range 5 {
			c = c.Next(unclean)
		}
		assert.Equal(t, 30.0, c.Tempo)
	})
	t.Run("one clean round undoes a quarter of an unclean one", func(t *testing.T) {
		c := tap.NewClimb(60, 100).Next(unclean)
		for range 4 {
			c = c.Next(clean)
		}
		assert.InDelta(t, 60, c.Tempo, 1e-9)
	})
	t.Run("two clean rounds at the goal arrive", func(t *testing.T) {
		c := tap.NewClimb(100, 100).Next(clean)
		assert.Equal(t, tap.Climbing, c.State)
		assert.Equal(t, tap.Arrived, c.Next(clean).State)
	})
	t.Run("three rounds that are not clean offer a pause, once", func(t *testing.T) {
		c := tap.NewClimb(60, 100).Next(unclean).Next(unclean)
		assert.Equal(t, tap.Climbing, c.State)
		c = c.Next(unclean)
		assert.Equal(t, tap.Pause, c.State)
		assert.Equal(t, tap.Climbing, c.Next(clean).State)
	})
	t.Run("getting less even offers a pause though every round is clean", func(t *testing.T) {
		c := tap.NewClimb(60, 200)
		for _, u := range []float64{0.10, 0.11, 0.10, 0.13, 0.16, 0.19} {
			assert.Equal(t, tap.Climbing, c.State)
			c = c.Next(tap.Outcome{Clean: true, Uneven: u})
		}
		assert.Equal(t, tap.Pause, c.State)
	})
	t.Run("a void round changes nothing", func(t *testing.T) {
		c := tap.NewClimb(60, 100)
		assert.Equal(t, c, c.Next(tap.Outcome{Void: true}))
	})
	t.Run("slow beats are subdivided", func(t *testing.T) {
		assert.True(t, tap.NewClimb(80, 200).Subdivided())
		assert.False(t, tap.NewClimb(90, 200).Subdivided())
	})
}

func TestOutcomeOfRound(t *testing.T) {
	want := study(700, longTrill, 4)
	o := tap.OutcomeOf(tap.Judge(want, exact(want, 20), tap.Options{BeatMS: 700}))
	assert.Equal(t, tap.Outcome{Clean: true}, tap.Outcome{Clean: o.Clean, Void: o.Void})
	assert.InDelta(t, 0, o.Uneven, 1e-6)
	gap := []tap.Span{{From: 3000, To: 3100}}
	assert.True(t, tap.OutcomeOf(tap.Judge(want, exact(want, 20), tap.Options{BeatMS: 700, Gaps: gap})).Void)
	assert.True(t, tap.OutcomeOf(tap.Judge(want, nil, tap.Options{BeatMS: 700})).Void)
}
