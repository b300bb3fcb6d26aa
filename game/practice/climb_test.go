package practice_test

import (
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/realize/tap"
)

// climber plays a climb as a player who is able to a tempo: up to it every
// ornament starts on its beat, beyond it they come later the faster it goes;
// taps scatter like a trained person's (see realize/tap). rests is how many
// pauses are taken.
func climber(t *testing.T, able float64, seed int64, rests int) (*player, *practice.Session) {
	t.Helper()
	return climberTo(t, 0, able, seed, rests)
}

// climberTo is a climber to a goal in felt beats a minute, 0 for the score's.
func climberTo(t *testing.T, goal, able float64, seed int64, rests int) (*player, *practice.Session) {
	t.Helper()
	d := open(t, "mordent")
	d.SetGoal(goal)
	s, err := practice.Start(practice.Climb, practice.On(d))
	require.NoError(t, err)
	r := rand.New(rand.NewSource(seed))
	p := &player{}
	p.late = func(w tap.Want) (float64, bool) {
		c, _ := s.Climb()
		ms := -15 + 8*r.NormFloat64()
		if w.Ornament != "" && w.Index == 0 && c.Tempo > able {
			ms += 60 + 600*(c.Tempo/able-1)
		}
		return ms, true
	}
	p.answer = func(*practice.Step) int {
		if rests--; rests < 0 {
			return 1
		}
		return 0
	}
	p.play(t, s)
	return p, s
}

func TestWhoIsAbleArrives(t *testing.T) {
	for seed := range int64(5) {
		p, s := climber(t, 130, seed, 3)
		c, _ := s.Climb()
		assert.Equal(t, tap.Arrived, c.State)
		assert.LessOrEqual(t, c.Round, 14, "within a lesson")
		o := s.Outcome(0)
		assert.Equal(t, practice.Piano, o.Next.Kind)
		assert.Contains(t, o.Words.Summary, "Arrived")
		assert.Len(t, o.Records, c.Round, "every round is kept")
		for i, plan := range p.plans {
			assert.Len(t, plan.Wants, len(p.plans[0].Wants), "the pattern of notes stays the same")
			if i > 0 {
				assert.GreaterOrEqual(t, plan.Settings.Percent, p.plans[0].Settings.Percent)
			}
		}
	}
}

// A player of known ability below the goal is led to it and kept near it, and
// is offered a pause instead of being pushed.
func TestTheClimbStaysNearWhatThePlayerCan(t *testing.T) {
	for _, able := range []float64{58, 66, 74} {
		p, s := climber(t, able, 3, 2)
		c, _ := s.Climb()
		assert.Equal(t, tap.Pause, c.State, "it ended at a pause")
		last := p.plans[len(p.plans)/2:]
		sum := 0.0
		for _, plan := range last {
			sum += plan.Settings.Percent / 100 * c.Goal
		}
		assert.InEpsilon(t, able, sum/float64(len(last)), 0.15)
		t.Logf("able %.0f of %.0f: %d rounds, near %.1f", able, c.Goal, c.Round, sum/float64(len(last)))
		all := strings.Join(p.lines, "\n")
		assert.Contains(t, all, "Rest first", "the caution stands beside the pause")
		assert.Contains(t, all, "some steps down")
	}
}

func TestSlowStepsAreSubdivided(t *testing.T) {
	p, _ := climberTo(t, 104, 200, 1, 0)
	clicks := func(i int) int { return len(p.plans[i].Sequence.Clicks) }
	last := len(p.plans) - 1
	assert.Greater(t, clicks(0), clicks(last))
	assert.Contains(t, p.lines[0], "divided")
	assert.NotContains(t, p.lines[last], "divided")
}

// What is hardly tapped changes nothing.
func TestAVoidRoundStandsStill(t *testing.T) {
	s, err := practice.Start(practice.Climb, practice.On(open(t, "mordent")))
	require.NoError(t, err)
	p := &player{late: func(tap.Want) (float64, bool) { return 0, false }}
	before, _ := s.Climb()
	step, _ := s.Step()
	p.sound(t, s, step)
	after, _ := s.Climb()
	assert.Equal(t, before, after)
	step, ok := s.Step()
	require.True(t, ok)
	assert.Contains(t, step.Line, "Too little to tell")
}
