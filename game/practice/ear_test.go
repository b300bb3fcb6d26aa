package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/practice"
)

// Seven questions of one kind would tire: a session by ear has four.
func TestHowManyQuestions(t *testing.T) {
	for _, kind := range []string{practice.Which, practice.Sign, practice.First} {
		s := start(t, kind, "mordent", func(m *practice.Material) { m.Seed = 5 })
		n := 0
		p := &player{late: exact, answer: func(s *practice.Step) int { n++; return s.Right }}
		p.play(t, s)
		assert.Equal(t, 4, n, kind)
		o := s.Outcome(0)
		assert.Equal(t, "4 of 4 recognized by ear.", o.Words.Summary)
		assert.Equal(t, practice.Echo, o.Next.Kind, "all right: now tap it")
		assert.Equal(t, 4, o.Records[0].Asked)
		assert.Equal(t, 4, o.Records[0].Right)
	}
	s := start(t, practice.First, "mordent", unchanged)
	p := &player{late: exact, answer: func(s *practice.Step) int { return (s.Right + 1) % len(s.Options) }}
	p.play(t, s)
	o := s.Outcome(0)
	assert.Equal(t, "0 of 4 recognized by ear.", o.Words.Summary)
	assert.Equal(t, practice.First, o.Next.Kind, "once more")
}

// The first note is asked among three that a player could take for it.
func TestChoicesForTheFirstNote(t *testing.T) {
	for _, passage := range []string{"mordent", "trill", "turn", "appoggiatura"} {
		places := map[int]bool{}
		for seed := range uint64(6) {
			s := start(t, practice.First, passage, func(m *practice.Material) { m.Seed = seed })
			p := &player{late: exact, answer: func(s *practice.Step) int {
				assert.Len(t, s.Options, 3, s.Line)
				assert.Contains(t, s.Reveal, "It begins on "+s.Options[s.Right].Label+":")
				places[s.Right] = true
				return s.Right
			}}
			p.play(t, s)
		}
		assert.Len(t, places, 3, "the right one has no place of its own")
	}
}
