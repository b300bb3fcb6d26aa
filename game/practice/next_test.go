package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/realize/tap"
)

// The lead is learned from each player's own plain notes.
func TestWhoseLeadIsLearned(t *testing.T) {
	known := -70.0
	s := start(t, practice.Pass, "mordent", func(m *practice.Material) { m.Names, m.Lead = []string{"Ana", "Ben"}, &known })
	assert.Equal(t, &known, s.Lead())
	p := &player{late: func(tap.Want) (float64, bool) { return -35, true }}
	s.Ready()
	step, _ := s.Step()
	p.sound(t, s, step)
	require.NotNil(t, s.Lead())
	assert.InDelta(t, -35, *s.Lead(), 1)
	assert.NotNil(t, s.Outcome(0).Records)
}

// A step that is too hard is taken once more, slower; another finding leads
// to the round that helps.
func TestWhatFollows(t *testing.T) {
	late := func(w tap.Want) (float64, bool) {
		if w.Ornament != "" {
			return 150, true
		}
		return 0, true
	}
	for _, tt := range []struct {
		kind string
		late func(tap.Want) (float64, bool)
		want practice.Next
	}{
		{practice.Tap, late, practice.Next{Kind: practice.Grow, Times: 1, Label: "Grow from the first note"}},
		{practice.Grow, late, practice.Next{Kind: practice.Grow, Times: 0.9, Label: "Once more, a step slower"}},
		{practice.Tap, exact, practice.Next{Kind: practice.Tap, Times: 1, Label: "Once more"}},
		{practice.One, exact, practice.Next{Kind: practice.Tap, Times: 0, Label: "Now the whole passage"}},
	} {
		s := start(t, tt.kind, "mordent", unchanged)
		(&player{late: tt.late}).play(t, s)
		assert.Equal(t, tt.want, s.Outcome(0).Next, tt.kind)
	}
}
