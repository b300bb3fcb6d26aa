package conduct_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/conduct"
	"agremens/game/practice"
	"agremens/game/round"
)

func TestListeningToTheEnd(t *testing.T) {
	h := newHall(t, "mordent")
	h.Listen()
	assert.Equal(t, round.Counting, h.State, "it waits for the sound")
	assert.True(t, h.awake)
	h.wait(20_000, func() bool { return h.State == round.Listening })
	require.Equal(t, round.Listening, h.State)
	assert.True(t, h.playing)
	h.wait(60_000, func() bool { return h.State == round.Ready })
	assert.Equal(t, round.Ready, h.State)
	assert.False(t, h.playing)
	assert.False(t, h.awake)
	assert.Greater(t, h.listened, 3.0, "seconds of two bars")
	assert.Empty(t, h.records)
}

func TestStoppingWhileItWaits(t *testing.T) {
	for name, begin := range map[string]func(*conduct.Conductor){"listening": (*conduct.Conductor).Listen, "tapping": (*conduct.Conductor).Tap} {
		t.Run(name, func(t *testing.T) {
			h := newHall(t, "mordent")
			h.silent = true
			begin(h.Conductor)
			h.wait(1000, nil)
			h.Conductor.Stop()
			assert.Equal(t, round.Ready, h.State)
			assert.False(t, h.Busy())
			assert.False(t, h.awake)
			assert.Zero(t, h.listened)
		})
	}
}

// A device that gives no sound is waited for eight seconds: the slowest that
// was seen to start, in a browser that asks the system first, took two.
func TestASilentDeviceIsGivenUp(t *testing.T) {
	h := newHall(t, "mordent")
	h.silent = true
	h.Tap()
	h.wait(conduct.WaitMS-100, nil)
	assert.Equal(t, round.Counting, h.State)
	h.wait(300, nil)
	assert.Equal(t, round.Ready, h.State)
	assert.False(t, h.Busy(), "nor does the kind of round go on")
	require.Len(t, h.said, 1)
	assert.Contains(t, h.said[0], "does not respond")
}

func TestADeviceThatDoesNotOpen(t *testing.T) {
	h := newHall(t, "mordent")
	h.broken = true
	h.Listen()
	assert.Equal(t, round.Ready, h.State)
	require.Len(t, h.said, 1)
	assert.Contains(t, h.said[0], "no device")
}

// What is tapped is judged by a clock that nothing disturbed for two seconds.
func TestATappedRoundWaitsForASureClock(t *testing.T) {
	h := newHall(t, "mordent")
	h.Tap()
	h.wait(1500, nil)
	assert.Nil(t, h.Round)
	h.wait(1500, nil)
	assert.NotNil(t, h.Round)
	listening := newHall(t, "mordent")
	listening.Listen()
	listening.wait(200, nil)
	assert.NotNil(t, listening.Round, "what is only heard need not")
}

func TestATappedRoundIsRecorded(t *testing.T) {
	h := newHall(t, "mordent")
	h.Tap()
	h.play(30)
	require.Equal(t, round.Result, h.State)
	assert.Equal(t, "30.00", h.Result.Data["mean-ms"])
	assert.NotEmpty(t, h.Marks)
	require.Len(t, h.records, 1)
	assert.Equal(t, conduct.OnKeys, h.with)
	assert.True(t, h.records[0].Judged)
	assert.Equal(t, practice.Tap, h.records[0].Kind)
}

func TestInexactTimesAreNotJudged(t *testing.T) {
	h := newHall(t, "mordent")
	h.clock.Inexact()
	h.Tap()
	h.play(0)
	require.Equal(t, round.Result, h.State)
	assert.Empty(t, h.Result.Data["mean-ms"])
	assert.Empty(t, h.Marks)
	require.Len(t, h.records, 1)
	assert.False(t, h.records[0].Judged)
}

// Two clean rounds in a row on the same bars lead to the piano, by the kinds
// of round's own plan.
func TestTheRowOfCleanRounds(t *testing.T) {
	h := newHall(t, "mordent")
	play := func() string {
		h.Tap()
		h.play(0)
		return h.Next.Kind
	}
	assert.NotEqual(t, practice.Piano, play())
	assert.Equal(t, practice.Piano, play())
	require.NoError(t, h.Desk.SetBars("3-4"))
	assert.NotEqual(t, practice.Piano, play(), "other bars begin another row")
}

func TestWhatSoundsFollowsTheDesk(t *testing.T) {
	h := newHall(t, "mordent")
	h.Listen()
	h.Desk.SetPercent(50)
	h.Resound()
	h.wait(5000, func() bool { return h.State == round.Listening })
	assert.InDelta(t, 50, h.Round.Plan().Settings.Percent, 1e-9, "also while it waits for the sound")
	h.Desk.SetPercent(150)
	h.Resound()
	assert.True(t, h.replaced)
	h.wait(20_000, func() bool { return h.Round == nil || h.Round.Plan().Settings.Percent == 150 })
	require.NotNil(t, h.Round)

	tapped := newHall(t, "mordent")
	tapped.Tap()
	tapped.wait(6000, func() bool { return tapped.Round != nil })
	tapped.Desk.SetPercent(50)
	tapped.Resound()
	assert.False(t, tapped.replaced, "what is tapped stays as it began")
}

func TestAQuestionIsAnsweredWhenItIsAsked(t *testing.T) {
	h := newHall(t, "mordent")
	h.Choose(practice.Which)
	assert.Equal(t, []string{practice.Which}, h.chosen)
	h.Tap()
	require.NotNil(t, h.Session)
	h.wait(6000, func() bool { return h.Round != nil })
	sounding := h.Round
	h.Answer(0)
	h.GoOn()
	assert.Same(t, sounding, h.Round, "nothing is asked while it sounds")
	h.wait(120_000, func() bool { s, ok := h.Step(); return ok && s.Act == practice.Ask })
	h.Answer(99)
	require.NotNil(t, h.Session, "there is no such answer")
	h.Answer(0)
	assert.NotEmpty(t, h.Said+h.Result.Summary)
	h.Conductor.Stop()
	assert.False(t, h.Busy())
}

func TestTheNextStep(t *testing.T) {
	h := newHall(t, "mordent")
	h.TakeNext()
	assert.False(t, h.Busy(), "nothing leads anywhere yet")
	h.Next = practice.Next{Kind: practice.Echo, Times: 0.9}
	h.TakeNext()
	assert.InDelta(t, 90, h.Desk.Percent, 1e-9)
	assert.Equal(t, practice.Echo, h.Kind)
	h.Conductor.Stop()
	h.Next = practice.Next{Kind: practice.Tap, Times: 0}
	h.TakeNext()
	assert.InDelta(t, 100, h.Desk.Percent, 1e-9, "back to what it was")
}

// A round that does not count is shown with its reason alone, and is nothing
// but time to the host: the log takes no round that was not judged.
func TestASpoiltRoundIsOnlyTime(t *testing.T) {
	for name, tt := range map[string]struct {
		disturb func(*hall)
		said    string
	}{
		"other speakers on the way": {func(h *hall) { h.clock.Disturb(h.now) }, "stuttered or stopped"},
		"nothing tapped":            {nil, "No note was tapped"},
	} {
		t.Run(name, func(t *testing.T) {
			h := newHall(t, "mordent")
			h.Tap()
			h.wait(10_000, func() bool { return h.State == round.Tapping })
			h.wait(1500, nil)
			if tt.disturb != nil {
				tt.disturb(h)
			}
			h.wait(20_000, func() bool { return h.Round == nil })
			require.Equal(t, round.Result, h.State)
			assert.Contains(t, h.Result.Summary, tt.said)
			assert.Contains(t, h.Result.Summary, "does not count")
			assert.Empty(t, h.Result.Rest())
			assert.Empty(t, h.Marks)
			assert.Contains(t, h.Next.Label, "Try again")
			require.Len(t, h.records, 1)
			assert.True(t, h.records[0].Spoilt)
			assert.False(t, h.records[0].Judged)
			assert.Positive(t, h.records[0].Seconds)
		})
	}
}
