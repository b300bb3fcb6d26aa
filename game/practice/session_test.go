package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/tap"
)

// start begins a kind of round on a built-in passage, changed.
func start(t *testing.T, kind, passage string, change func(*practice.Material)) *practice.Session {
	t.Helper()
	m := practice.On(open(t, passage))
	change(&m)
	s, err := practice.Start(kind, m)
	require.NoError(t, err)
	return s
}

func unchanged(*practice.Material) {}

// Minutes are told to the nearest, seconds are not.
func TestMinutesAreTold(t *testing.T) {
	for _, tt := range []struct {
		seconds float64
		said    string
	}{{59, "less than a minute"}, {60, "1 minute"}, {89, "1 minute"}, {90, "2 minutes"}, {600, "10 minutes"}} {
		for kind, before := range map[string]string{practice.Piano: "At the piano: ", practice.Clap: "Clapped: "} {
			s := start(t, kind, "mordent", unchanged)
			c := steadyClock{}
			plan, err := s.Plan(rate)
			require.NoError(t, err)
			r := round.Start(plan, 0, c, nil)
			s.Stop(r, tt.seconds)
			o := s.Outcome(0)
			assert.Equal(t, before+tt.said+". Nothing was judged.", o.Words.Summary)
			assert.Equal(t, tt.seconds, o.Records[0].Seconds)
		}
	}
	assert.Empty(t, start(t, practice.Piano, "mordent", unchanged).Outcome(0).Records, "nothing was done")
}

// Where a session stands, while steps are added on the way.
func TestPlaceInASession(t *testing.T) {
	s := start(t, practice.Grow, "mordent", unchanged)
	at, of := s.Place()
	assert.Equal(t, [2]int{1, 3}, [2]int{at, of})
	p := &player{late: func(w tap.Want) (float64, bool) {
		if w.Ornament != "" {
			return 150, true
		}
		return 0, true
	}}
	step, _ := s.Step()
	p.sound(t, s, step)
	at, of = s.Place()
	assert.Equal(t, [2]int{2, 4}, [2]int{at, of}, "not clean: once more")
	step, _ = s.Step()
	assert.Equal(t, "Once more: only the first note of the ornament", step.Line)
	p.sound(t, s, step)
	at, of = s.Place()
	assert.Equal(t, [2]int{3, 4}, [2]int{at, of}, "but only once")
}

// A loop takes another tempo while it sounds; other steps keep theirs.
func TestAdjust(t *testing.T) {
	for kind, want := range map[string]float64{practice.Piano: 50, practice.Tap: 100} {
		s := start(t, kind, "mordent", func(m *practice.Material) { m.Settings.Percent = 100 })
		m := practice.On(open(t, "mordent"))
		m.Settings.Percent = 50
		s.Adjust(m)
		step, _ := s.Step()
		assert.Equal(t, want, step.Settings.Percent, kind)
	}
}
