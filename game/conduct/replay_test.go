package conduct_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/closeup"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// What was tapped is heard, then how it goes; the outcome stays in sight and is
// there again afterwards. Neither counts as listening.
func TestHearMine(t *testing.T) {
	h := newHall(t, "mordent")
	assert.False(t, h.HearMine(""), "nothing was tapped yet")
	h.Tap()
	h.play(30)
	require.Equal(t, round.Result, h.State)
	require.NotNil(t, h.Judged)
	summary := h.Result.Summary
	listened := h.listened
	require.True(t, h.HearMine(""))
	h.wait(20_000, func() bool { return h.State == round.Listening })
	assert.Equal(t, summary, h.Result.Summary)
	mine := h.Round.Plan()
	assert.Equal(t, round.NoHand, mine.Settings.Tap)
	assert.Equal(t, 1, mine.Settings.To-mine.Settings.From, "one measure")
	h.wait(30_000, func() bool { return h.Round != nil && h.Round.Plan() != mine })
	asItGoes := h.Round.Plan()
	assert.Len(t, mine.Sequence.Notes, len(asItGoes.Sequence.Notes), "as many keys as there are in the measure")
	h.wait(30_000, func() bool { return h.State == round.Result })
	assert.Equal(t, round.Result, h.State)
	assert.False(t, h.Hearing())
	assert.Equal(t, summary, h.Result.Summary)
	assert.Equal(t, listened, h.listened)

	require.True(t, h.HearMine(""))
	h.Conductor.Stop()
	assert.Equal(t, round.Result, h.State, "also when it is stopped")
	assert.False(t, h.Busy())
	require.True(t, h.HearMine(""))
	h.Tap()
	assert.False(t, h.Hearing(), "a new round ends it")
	assert.Nil(t, h.Judged, "and nothing stays of the one before")
	assert.Empty(t, h.Result.Summary)
}

func TestForget(t *testing.T) {
	h := newHall(t, "mordent")
	h.Tap()
	h.play(30)
	require.NotEmpty(t, h.Marks)
	h.Forget()
	assert.Equal(t, round.Ready, h.State)
	assert.Empty(t, h.Marks)
	assert.Nil(t, h.Judged)
	assert.Empty(t, h.Result.Summary)
	assert.Empty(t, h.Next.Kind)
}

// Every tap is told at once, for the hand that taps.
func TestATapIsToldAtOnce(t *testing.T) {
	h := newHall(t, "mordent")
	h.Strike(true, tap.Tap{At: 5, Hand: perf.Left}, "x", "keys")
	assert.Empty(t, h.struck, "nothing is tapped now")
	h.Tap()
	h.wait(10_000, func() bool { return h.State == round.Tapping })
	before := len(h.struck)
	h.Strike(true, tap.Tap{At: h.now, Hand: perf.Left}, "x", "keys")
	require.Len(t, h.struck, before+1)
	assert.Equal(t, perf.Right, h.struck[before].Hand, "the right hand was chosen")
	at, ok := h.PlaceAt(h.now)
	assert.True(t, ok)
	assert.Positive(t, at.Quarters)
}

// The mordent passage stands in cut time: two beats are counted before it.
func TestCount(t *testing.T) {
	h := newHall(t, "mordent")
	_, ok := h.Count()
	assert.False(t, ok)
	h.Tap()
	var counted []int
	h.wait(20_000, func() bool {
		if n, ok := h.Count(); ok && (len(counted) == 0 || counted[len(counted)-1] != n) {
			counted = append(counted, n)
		}
		return h.State == round.Tapping
	})
	assert.Equal(t, []int{1, 2}, counted)
	_, ok = h.Count()
	assert.False(t, ok, "the music has begun")
}

// The figure of a round tapped 30 ms late throughout by a player whose measured
// lead is 0: that is within what is called on the beat.
func TestTheFigureOfARound(t *testing.T) {
	h := newHall(t, "mordent")
	h.Tap()
	h.play(30)
	wants, taps, _ := h.Judged.Round.Judged()
	f, ok := closeup.Of(h.Judged.Result, wants, taps)
	require.True(t, ok)
	assert.Equal(t, "mordent", f.Name)
	require.Len(t, f.Notes, 4, "three notes and the one it lands on")
	assert.Equal(t, closeup.OnBeat, f.Notes[0].Verdict)
	assert.Equal(t, closeup.Lands, f.Notes[3].Verdict)
	assert.Equal(t, -1, f.Notes[1].Degree)
	for _, n := range f.Notes {
		assert.InDelta(t, 30, n.Off, 1)
	}
	assert.Equal(t, "Note 1: on the beat; the next note: lands.", f.Text(nil))
}

// What an answer revealed does not stand under the next question.
func TestARevealIsGoneAtTheNextQuestion(t *testing.T) {
	h := newHall(t, "mordent")
	h.Choose(practice.First)
	h.Tap()
	h.wait(120_000, func() bool { s, ok := h.Step(); return ok && s.Act == practice.Ask })
	h.Answer(0)
	require.NotEmpty(t, h.Said)
	first := h.Session
	h.wait(120_000, func() bool { s, ok := h.Step(); return ok && s.Act == practice.Ask || h.Session != first })
	require.Same(t, first, h.Session, "there is another question")
	assert.Empty(t, h.Said)
}
