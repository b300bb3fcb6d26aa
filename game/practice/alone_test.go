package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/perf"
)

// lines plays a session exactly and returns what it asked for.
func lines(t *testing.T, s *practice.Session) []string {
	t.Helper()
	p := &player{late: exact, answer: right, loops: 70}
	p.play(t, s)
	return p.lines
}

// An ornament grows by one, two, four notes to all it has, and is landed from
// two, four, all: never as many twice.
func TestHowAnOrnamentGrowsAndLands(t *testing.T) {
	for _, tt := range []struct {
		passage, selected string
		grow, land        []string
	}{
		{"mordent", "o1", // three notes
			[]string{"Only the first note of the ornament", "Only the first 2 notes of the ornament", "All 3 notes"},
			[]string{"Only the last 2 notes and the next beat", "All 3 notes and the next beat"}},
		{"turn", "o2", // four
			[]string{"Only the first note of the ornament", "Only the first 2 notes of the ornament", "All 4 notes"},
			[]string{"Only the last 2 notes and the next beat", "All 4 notes and the next beat"}},
		{"turn", "o1", // five
			[]string{"Only the first note of the ornament", "Only the first 2 notes of the ornament", "Only the first 4 notes of the ornament", "All 5 notes"},
			[]string{"Only the last 2 notes and the next beat", "Only the last 4 notes and the next beat", "All 5 notes and the next beat"}},
	} {
		pick := func(m *practice.Material) { m.Selected = tt.selected }
		assert.Equal(t, tt.grow, lines(t, start(t, practice.Grow, tt.passage, pick)))
		assert.Equal(t, tt.land, lines(t, start(t, practice.Land, tt.passage, pick)))
	}
}

// Where both hands are set, the clock of the other hand comes first.
func TestGrowWithBothHands(t *testing.T) {
	s := start(t, practice.Grow, "mordent", func(m *practice.Material) { m.Settings.Tap = round.BothHands })
	p := &player{late: exact}
	p.play(t, s)
	assert.Equal(t, "First the left hand alone", p.lines[0])
	assert.Equal(t, round.LeftHand, p.plans[0].Settings.Tap)
	assert.Equal(t, round.NoHand, p.plans[0].Settings.Play)
	for _, plan := range p.plans[1:] {
		assert.Equal(t, round.BothHands, plan.Settings.Tap)
		assert.Equal(t, round.NoHand, plan.Settings.Play)
	}
}

// The kinds for one hand take the hand that is set, the right one for both.
func TestWhichHandAKindTakes(t *testing.T) {
	for _, tt := range []struct{ set, taken round.Hands }{
		{round.RightHand, round.RightHand}, {round.LeftHand, round.LeftHand}, {round.BothHands, round.RightHand},
	} {
		for _, kind := range []string{practice.One, practice.Plain} {
			s := start(t, kind, "mordent", func(m *practice.Material) { m.Settings.Tap = tt.set })
			step, _ := s.Step()
			assert.Equal(t, tt.taken, step.Settings.Tap, kind)
			assert.Equal(t, tt.taken.Other(), step.Settings.Play, kind)
		}
		s := start(t, practice.Piano, "mordent", func(m *practice.Material) { m.Settings.Tap = tt.set })
		step, _ := s.Step()
		assert.Equal(t, tt.taken.Other(), step.Settings.Play, "at the piano the other hand sounds")
		assert.True(t, step.Settings.Beat && step.Settings.Repeat)
	}
}

// The ornament comes three times inside the count.
func TestHowOftenInsideTheCount(t *testing.T) {
	got := lines(t, start(t, practice.Inside, "mordent", unchanged))
	assert.Equal(t, []string{
		"Tap the beat, the ornament in its place: 1 of 3", "Tap the beat, the ornament in its place: 2 of 3", "Tap the beat, the ornament in its place: 3 of 3",
	}, got)
}

// Beats stand around the ornament, not on or under it, where its own notes
// stand for them; the first beat after it is its landing. The left hand's
// ornament is counted by the left hand.
func TestBeatsAroundTheOrnament(t *testing.T) {
	for _, tt := range []struct {
		passage, selected string
		hand              perf.Hand
		beats             []float64 // quarters from the beginning of the measure, counted in too
		landing           int       // which of all is the landing
	}{
		// In half notes: a mordent between the beats, on the second, on the first.
		{"mordent", "o2", perf.Right, []float64{-4, -2, 0, 2}, 6},
		{"mordent", "o4", perf.Left, []float64{-4, -2, 0}, 6},
		{"mordent", "o5", perf.Right, []float64{-4, -2, 2}, 5},
		// A trill on the third and fourth beat, whose notes reach over the fourth.
		{"trill", "o5", perf.Right, []float64{-4, -3, -2, -1, 0, 1}, -1},
	} {
		s := start(t, practice.Inside, tt.passage, func(m *practice.Material) { m.Selected = tt.selected })
		plan, err := s.Plan(rate)
		require.NoError(t, err)
		step, _ := s.Step()
		m := practice.On(open(t, tt.passage))
		begin := m.Passage.Measures[step.Settings.From].Onset
		var beats []float64
		landing := -1
		for i, w := range plan.Wants {
			if w.Landing {
				require.Equal(t, -1, landing, "one landing")
				landing = i
			}
			if w.Ornament == "" && w.Onset.Less(m.Passage.Measures[step.Settings.From].End()) {
				beats = append(beats, w.Onset.Sub(begin).Float())
				assert.Equal(t, tt.hand, w.Hand)
				assert.Equal(t, float64(plan.Frames[i])*1000/rate, w.At)
			}
		}
		assert.Equal(t, tt.beats, beats, tt.selected)
		if tt.landing >= 0 {
			assert.Equal(t, tt.landing, landing, tt.selected)
		}
	}
}
