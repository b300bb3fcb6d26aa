package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/synth"
)

// later taps both hands' wants at their times and a delay for each, in ms.
func later(t *testing.T, s round.Settings, delay func(i int) float64) *round.Round {
	t.Helper()
	plan := build(t, s)
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	for i, w := range plan.Wants {
		at := heardAt(plan, i) + delay(i)
		r.Tick(at, c)
		r.Tap(at, w.Hand)
	}
	r.Tick(60_000, c)
	require.Equal(t, round.Result, r.State())
	return r
}

// What was tapped is heard again in its measure, each tap as far from its note
// as it was from the round's own lead, with the key that was wanted. It lasts
// to the next tap, but 0.12 s at least and 0.7 s at most.
func TestTheMeasureAsItWasTapped(t *testing.T) {
	late := map[int]float64{1: 60}
	r := later(t, round.Settings{From: 1, To: 4, Tap: round.RightHand, Play: round.LeftHand, CountIn: 1}, func(i int) float64 { return late[i] })
	lead := r.Result().Leads[perf.Right].MS
	mine, right, ok := r.Replay(1)
	require.True(t, ok)
	for _, p := range []*round.Plan{mine, right} {
		assert.Equal(t, []int{1, 2}, []int{p.Settings.From, p.Settings.To}, "its own measure")
		assert.True(t, p.Settings.Beat)
		assert.False(t, p.Settings.Repeat)
		assert.Empty(t, p.Wants, "nothing is to be tapped")
	}
	var struck []synth.Note
	for _, n := range mine.Sequence.Notes {
		if n.Key == 67 {
			struck = append(struck, n)
		}
	}
	require.GreaterOrEqual(t, len(struck), 3)
	for i, n := range struck[:3] {
		at := float64(mine.Lead) + 24000*float64(i) + (late[i]-lead)*48
		assert.InDelta(t, at, n.Start, 2, "tap %d", i)
		assert.InDelta(t, struck[min(i+1, len(struck)-1)].Start, n.End, 1+float64(max(0, i+2-len(struck)))*34000, "tap %d sounds up to the next", i)
	}
	last := struck[len(struck)-1]
	assert.Equal(t, int64(33600), last.End-last.Start, "0.7 s: nothing follows")
	assert.GreaterOrEqual(t, mine.Sequence.Length, right.Sequence.Length)
	assert.GreaterOrEqual(t, mine.Sequence.Length, last.End)
	for i := 1; i < len(mine.Sequence.Notes); i++ {
		assert.LessOrEqual(t, mine.Sequence.Notes[i-1].Start, mine.Sequence.Notes[i].Start)
	}
	sounds := func(p *round.Plan, key int) (n int) {
		for _, note := range p.Sequence.Notes {
			if note.Key == key {
				n++
			}
		}
		return n
	}
	assert.Positive(t, sounds(mine, 43), "the other hand sounds too")
	assert.Positive(t, sounds(right, 43))
	assert.GreaterOrEqual(t, sounds(right, 67), 3)

	_, second, ok := r.Replay(3)
	require.True(t, ok)
	assert.Equal(t, []int{2, 3}, []int{second.Settings.From, second.Settings.To}, "a measure begins with its first beat")
}

// There is nothing to hear again before the end, for no note, and where none
// was tapped in the measure.
func TestNothingToHearAgain(t *testing.T) {
	s := round.Settings{From: 1, To: 4, Tap: round.RightHand, CountIn: 1}
	early := round.Start(build(t, s), 0, &steadyClock{}, nil)
	_, _, ok := early.Replay(0)
	assert.False(t, ok, "not judged yet")
	r := later(t, s, func(int) float64 { return 0 })
	wants, _, _ := r.Judged()
	for from, want := range map[int]bool{-1: false, 0: true, len(wants) - 1: true, len(wants): false} {
		_, _, ok := r.Replay(from)
		assert.Equal(t, want, ok, "%d", from)
	}
	missed := later(t, s, func(i int) float64 {
		if i < 3 {
			return 0
		}
		return 100_000 // after the round
	})
	_, _, ok = missed.Replay(6)
	assert.False(t, ok, "nothing was tapped there")
}
