package practice_test

import (
	"math/rand"
	"strconv"
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
	assert.Contains(t, step.Line, "No note was tapped")
}

// A climb starts at the tempo that is set, or at a comfortable one where that
// is the goal already, and says where it stands.
func TestWhereAClimbStarts(t *testing.T) {
	for percent, want := range map[float64]float64{0: 0.6, 100: 0.6, 120: 0.6, 99: 0.99, 45: 0.45} {
		s := start(t, practice.Climb, "mordent", func(m *practice.Material) { m.Settings.Percent = percent })
		c, ok := s.Climb()
		assert.True(t, ok)
		assert.InDelta(t, want*80, c.Tempo, 1e-9)
		step, _ := s.Step()
		assert.InDelta(t, 100*want, step.Settings.Percent, 1e-9)
		assert.True(t, step.Settings.Beat)
		assert.Contains(t, step.Line, strconv.Itoa(int(want*80+0.5))+" of 80")
	}
	_, ok := start(t, practice.Tap, "mordent", unchanged).Climb()
	assert.False(t, ok)
}

// What a climb says on its way, and at its end.
func TestWhatAClimbSays(t *testing.T) {
	s := start(t, practice.Climb, "mordent", func(m *practice.Material) { m.Settings.Percent = 95 })
	late := 0.0
	p := &player{late: func(w tap.Want) (float64, bool) {
		if w.Ornament != "" {
			return late, true
		}
		return 0, true
	}}
	next := func() string {
		step, ok := s.Step()
		require.True(t, ok)
		p.sound(t, s, step)
		if step, ok = s.Step(); !ok {
			return ""
		}
		return step.Line
	}
	assert.Empty(t, s.Outcome(0).Words.Summary, "nothing was tapped yet")
	late = 150
	assert.Contains(t, next(), "Not even yet: some steps down.")
	late = 0
	for range 20 {
		line := next()
		if line == "" {
			break
		}
		if c, _ := s.Climb(); c.Tempo < c.Goal {
			assert.Contains(t, line, "Clean: a step up.")
		}
	}
	c, _ := s.Climb()
	assert.Equal(t, tap.Arrived, c.State)
	o := s.Outcome(0)
	assert.Equal(t, "Arrived: two clean rounds at 80, after "+strconv.Itoa(c.Round)+".", o.Words.Summary)
	assert.Equal(t, practice.Piano, o.Next.Kind)
	assert.Len(t, o.Records, c.Round)

	s = start(t, practice.Climb, "mordent", func(m *practice.Material) { m.Settings.Percent = 50 })
	next()
	s.Stop(nil, 1)
	o = s.Outcome(0)
	assert.Contains(t, o.Words.Summary, "1 round, from 40 to ")
	assert.Equal(t, practice.Climb, o.Next.Kind)
	assert.Equal(t, "Go on climbing", o.Next.Label)
}

// Three rounds that are not even call for a rest, after which it goes on or
// stops for the day.
func TestARestWhileClimbing(t *testing.T) {
	for answer, over := range []bool{false, true} {
		s := start(t, practice.Climb, "mordent", unchanged)
		p := &player{late: func(w tap.Want) (float64, bool) {
			if w.Ornament != "" {
				return 150, true
			}
			return 0, true
		}}
		for range 3 {
			step, _ := s.Step()
			require.Equal(t, practice.Strike, step.Act)
			p.sound(t, s, step)
		}
		step, _ := s.Step()
		require.Equal(t, practice.Ask, step.Act)
		assert.Contains(t, step.Line, "Three rounds in a row were not even yet.")
		s.Answer(answer)
		assert.Equal(t, over, s.Over())
		if !over {
			step, _ = s.Step()
			assert.Contains(t, step.Line, "Rested.")
		}
		assert.NotContains(t, s.Outcome(0).Next.Label, "climbing", "after a pause nothing is urged")
	}
}
