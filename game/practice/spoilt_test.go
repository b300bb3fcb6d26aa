package practice_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/tap"
	"agremens/synth/clock"
)

// A round that the sound, or too few taps, spoilt gets no verdict: the true
// reason stands first and alone, the same is offered again, a row of clean
// rounds stays as it was, and nothing goes into the log.
func TestASpoiltRoundDoesNotCount(t *testing.T) {
	n := 0
	never := func(tap.Want) (float64, bool) { return 0, false }
	everyThird := func(tap.Want) (float64, bool) { n++; return 0, n%3 == 0 }
	for _, tt := range []struct {
		name  string
		clock round.Clock
		late  func(tap.Want) (float64, bool)
		why   string
		said  string
		label string
	}{
		{"a hole in the sound", doubtfulClock{hole: clock.Span{From: 9000, To: 9150}}, exact, tap.CodeBroken, "stuttered or stopped", "Try again"},
		{"and hardly tapped: the first reason stands", doubtfulClock{hole: clock.Span{From: 9000, To: 9150}}, never, tap.CodeBroken, "stuttered or stopped", "Try again"},
		{"nothing tapped", nil, never, tap.CodeUntapped, "No note was tapped", "Try again"},
		{"one note in three", nil, everyThird, tap.CodeHardly, "notes had a tap", "Try again, a step slower"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := start(t, practice.Tap, "mordent", unchanged)
			p := &player{clock: tt.clock, late: tt.late}
			p.play(t, s)
			o := s.Outcome(1)
			assert.Equal(t, tt.why, o.Result.Spoilt)
			assert.Contains(t, o.Words.Summary, tt.said)
			assert.Contains(t, o.Words.Summary, "does not count")
			assert.Empty(t, o.Words.Rest())
			assert.Equal(t, practice.Tap, o.Next.Kind)
			assert.Equal(t, tt.label, o.Next.Label)
			assert.Equal(t, 1, o.Row)
			assert.Nil(t, o.Marks)
			require.Len(t, o.Records, 1)
			assert.True(t, o.Records[0].Spoilt)
			assert.False(t, o.Records[0].Judged)
			assert.Zero(t, o.Records[0].Hit)
			assert.Greater(t, o.Records[0].Seconds, 5.0, "it took its time")
		})
	}
}

// Whoever starts every mordent with the other hand and comes late with all
// that follows is told so, and not that she waits for the beat or that her
// mordents come early.
func TestTheMordentsAreRightAndTheRestIsLate(t *testing.T) {
	for _, lead := range []float64{0, -40, -70} {
		s := start(t, practice.Tap, "mordent", unchanged)
		seen := false
		p := &player{late: func(w tap.Want) (float64, bool) {
			seen = seen || w.Ornament != ""
			if w.Ornament == "" && seen {
				return lead + 120, true
			}
			return lead, true
		}}
		p.play(t, s)
		o := s.Outcome(0)
		assert.Equal(t, "Each mordent is in time, but what follows comes late, by about a dotted sixteenth (120 ms).", o.Words.Summary, "lead %v", lead)
		for _, f := range o.Result.Findings {
			assert.NotContains(t, []string{tap.CodeReacting, tap.CodeEarlyStart, tap.CodeBump}, f.Code)
		}
		assert.Equal(t, practice.Land, o.Next.Kind)
		assert.Equal(t, "Land first, and go straight on", o.Next.Label)
		for i := range o.Result.Ornaments {
			// The last comes 94 ms after a note that is 120 ms late here: the taps cross.
			if r := &o.Result.Ornaments[i]; r.Ornament != "o8" {
				assert.InDelta(t, 0, r.Start.V, 1, r.Ornament)
			}
		}
	}
}

// Two taps for a mordent's three are told as what they are.
func TestTwoTapsForThree(t *testing.T) {
	s := start(t, practice.Tap, "mordent", unchanged)
	p := &player{late: func(w tap.Want) (float64, bool) { return 0, w.Ornament == "" || w.Index != 1 }}
	p.play(t, s)
	o := s.Outcome(0)
	assert.Equal(t, "Each mordent has 2 notes; it needs 3.", o.Words.Summary)
	assert.Equal(t, practice.Inside, o.Next.Kind)
	assert.Contains(t, o.Words.Figures, "missed")
}

// Of a group nobody is named whose round did not count, and nothing is said of
// everybody where not everybody was heard.
func TestAGroupOfWhichOneWasNotHeard(t *testing.T) {
	s := start(t, practice.Pass, "mordent", func(m *practice.Material) { m.Names = []string{"Anna", "Ben"} })
	p := &player{late: func(tap.Want) (float64, bool) {
		step, _ := s.Step()
		return 0, step.Player == "Anna"
	}}
	p.play(t, s)
	o := s.Outcome(0)
	assert.Equal(t, "1 of 2 players could be heard: they started on the beat and landed in time.", o.Words.Summary)
	assert.Equal(t, []string{"No note was tapped: this round does not count."}, o.Words.Notes)
	assert.Equal(t, practice.Pass, o.Next.Kind)
	require.Len(t, o.Records, 2)
	assert.True(t, o.Records[0].Judged)
	assert.True(t, o.Records[1].Spoilt)
}
