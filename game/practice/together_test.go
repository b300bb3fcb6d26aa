package practice_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// Votes are counted as they come, for what is there to vote on.
func TestVotes(t *testing.T) {
	s := start(t, practice.Vote, "trill", unchanged)
	p := &player{late: exact}
	for step, ok := s.Step(); ok && step.Act != practice.Count; step, ok = s.Step() {
		assert.Nil(t, s.Votes())
		p.sound(t, s, step)
	}
	s.Answer(-1)
	s.Answer(2)
	s.Answer(1)
	s.Answer(1)
	assert.Equal(t, []int{0, 2}, s.Votes())
	s.Ready()
	assert.True(t, s.Over())
	o := s.Outcome(0)
	assert.Equal(t, "A: 0, B: 2.", o.Words.Summary)
	assert.Empty(t, o.Records, "a vote is no practice")
}

// What most of a group share comes first, whoever they are; where all were
// clean it is the piano, and where nobody tapped nothing is said of anybody.
func TestAGroup(t *testing.T) {
	group := func(late func(name string, w tap.Want) (float64, bool)) practice.Outcome {
		s := start(t, practice.Pass, "mordent", func(m *practice.Material) { m.Names = []string{"A", "B", "C", "D", "E", "F", "G", "H", "I"} })
		p := &player{}
		p.late = func(w tap.Want) (float64, bool) {
			step, _ := s.Step()
			return late(step.Player, w)
		}
		p.play(t, s)
		return s.Outcome(0)
	}
	clean := group(func(string, tap.Want) (float64, bool) { return 0, true })
	assert.Equal(t, "8 players, one round each.", clean.Words.Figures, "eight at most")
	assert.Equal(t, practice.Piano, clean.Next.Kind)
	assert.Len(t, clean.Records, 8)

	none := group(func(string, tap.Want) (float64, bool) { return 0, false })
	assert.Contains(t, none.Words.Summary, "No round counts")
	assert.Equal(t, practice.Pass, none.Next.Kind)

	most := group(func(name string, w tap.Want) (float64, bool) {
		switch {
		case name < "D" && w.Ornament != "":
			return -150, true // three early
		case name < "H" && w.Ornament != "":
			return 150, true // four late
		}
		return 0, true
	})
	assert.Contains(t, most.Words.Summary, "What we work on together")
	require.Len(t, most.Words.Notes, 1, "the other thing, once")
	other := group(func(name string, w tap.Want) (float64, bool) {
		if name < "D" && w.Ornament != "" {
			return -150, true
		}
		return 0, true
	})
	assert.NotEqual(t, most.Words.Summary, other.Words.Summary)
	assert.Contains(t, most.Words.Notes[0], strings.TrimPrefix(other.Words.Summary, "What we work on together: "))
}

// Two players are told of their own hand alone.
func TestTwoPlayersCounted(t *testing.T) {
	s := start(t, practice.Two, "mordent", unchanged)
	plan, err := s.Plan(rate)
	require.NoError(t, err)
	var n [2]int
	for _, w := range plan.Wants {
		n[w.Hand]++
	}
	(&player{late: func(w tap.Want) (float64, bool) { return 0, w.Hand == perf.Right }}).play(t, s)
	notes := s.Outcome(0).Words.Notes
	assert.Contains(t, notes[perf.Right], "("+strconv.Itoa(n[perf.Right])+" of "+strconv.Itoa(n[perf.Right])+" notes)")
	assert.Contains(t, notes[perf.Left], "(0 of "+strconv.Itoa(n[perf.Left])+" notes)")
}
