package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
)

// The climb can be drawn: what is behind, what is at hand, what is to come.
func TestRungs(t *testing.T) {
	s := start(t, practice.Climb, "mordent", unchanged)
	first := s.Rungs()
	require.Greater(t, len(first), 3)
	assert.Equal(t, practice.RungNow, first[0].Mark)
	goal := first[len(first)-1].Tempo
	for i := 1; i < len(first); i++ {
		assert.Equal(t, practice.RungToCome, first[i].Mark)
		assert.GreaterOrEqual(t, first[i].Tempo, first[i-1].Tempo)
	}
	p := &player{late: exact}
	step, _ := s.Step()
	p.sound(t, s, step)
	next := s.Rungs()
	assert.Equal(t, practice.Rung{Tempo: first[0].Tempo, Mark: practice.RungClean}, next[0])
	assert.Equal(t, practice.RungNow, next[1].Mark)
	assert.InDelta(t, first[1].Tempo, next[1].Tempo, 1e-9, "as it was foreseen")
	p.play(t, s)
	last := s.Rungs()
	for _, r := range last {
		assert.Equal(t, practice.RungClean, r.Mark)
	}
	assert.InDelta(t, goal, last[len(last)-1].Tempo, 1e-9)
	assert.Nil(t, start(t, practice.Tap, "mordent", unchanged).Rungs())
}
