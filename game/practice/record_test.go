package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/synth/clock"
)

// doubtfulClock had a hole in its sound.
type doubtfulClock struct {
	steadyClock
	hole clock.Span
}

func (c doubtfulClock) Doubtful() []clock.Span { return []clock.Span{c.hole} }

// A row of clean rounds leads to the piano: only rounds in which enough was
// heard to judge by belong to it. A hole in the sound before the round spoils
// nothing.
func TestOnlyCertainRoundsMakeARow(t *testing.T) {
	for _, tt := range []struct {
		name  string
		clock round.Clock
		late  float64 // of ornaments
		row   int
		piano bool
	}{
		{"clean", nil, 0, 2, true},
		{"a hole before the round", doubtfulClock{hole: clock.Span{From: 1, To: 2}}, 0, 2, true},
		{"not clean", nil, 150, 0, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := start(t, practice.Tap, "mordent", unchanged)
			p := &player{clock: tt.clock, late: func(w tap.Want) (float64, bool) {
				if w.Ornament != "" {
					return tt.late, true
				}
				return 0, true
			}}
			p.play(t, s)
			o := s.Outcome(1)
			assert.True(t, o.Result.Certain)
			assert.Equal(t, tt.late == 0, o.Result.Clean)
			assert.Equal(t, tt.row, o.Row)
			assert.Equal(t, tt.piano, o.Next.Kind == practice.Piano)
			assert.True(t, o.Records[0].Certain)
			assert.True(t, o.Records[0].Judged)
		})
	}
}

// A report names the sign and its bar where only one is wrong.
func TestAFaultNamesItsPlace(t *testing.T) {
	s := start(t, practice.Tap, "mordent", unchanged)
	first := ""
	p := &player{late: func(w tap.Want) (float64, bool) {
		if w.Ornament != "" && first == "" {
			first = w.Ornament
		}
		if w.Ornament != "" && w.Ornament == first {
			return 150, true
		}
		return 0, true
	}}
	p.play(t, s)
	r := s.Outcome(1).Records[0]
	require.Len(t, r.Where, len(r.Findings))
	assert.Regexp(t, `^\d+ mordent$`, r.Where[0], r.Findings)
}

// A round that was broken off before its half tells nothing: it is kept as
// time, not as a judgement.
func TestABrokenOffRound(t *testing.T) {
	for _, hand := range []round.Hands{round.RightHand, round.LeftHand} {
		m := practice.On(open(t, "mordent"))
		m.Settings.Tap, m.Settings.Play = hand, hand.Other()
		probe, err := practice.Start(practice.Tap, m)
		require.NoError(t, err)
		plan, err := probe.Plan(rate)
		require.NoError(t, err)
		n := len(plan.Wants)
		for _, heard := range []int{(n + 1) / 2, (n+1)/2 - 1} {
			s, err := practice.Start(practice.Tap, m)
			require.NoError(t, err)
			c := steadyClock{}
			r := round.Start(plan, 0, c, nil)
			r.Tick(0, c)
			for i := range plan.Wants {
				r.Tap(plan.Wants[i].At, perf.Right)
			}
			at := plan.Wants[heard-1].At + 1
			r.Tick(at, c)
			r.Stop(at, c)
			require.Equal(t, round.Result, r.State())
			wants, _, _ := r.Judged()
			require.Len(t, wants, heard)
			s.Stop(r, 12)
			o := s.Outcome(0)
			require.Len(t, o.Records, 1)
			assert.Equal(t, 2*heard >= n, o.Records[0].Judged, "%d of %d notes were heard", heard, n)
			assert.Equal(t, 2*heard >= n, o.Records[0].Hit > 0)
			assert.Equal(t, 12.0, o.Records[0].Seconds)
		}
	}
}

// The tempo of a record is in felt beats a minute, of the goal's.
func TestTempoOfARecord(t *testing.T) {
	for percent, want := range map[float64]float64{0: 80, 100: 80, 50: 40} {
		s := start(t, practice.Tap, "mordent", func(m *practice.Material) { m.Settings.Percent = percent })
		(&player{late: exact}).play(t, s)
		r := s.Outcome(0).Records[0]
		assert.InDelta(t, want, r.Tempo, 1e-9)
		assert.Equal(t, 80.0, r.Goal)
	}
}
