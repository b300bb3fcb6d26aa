package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/realize/tap"
)

func TestARecordHoldsWhatWasJudged(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 3, Tap: round.RightHand})
	r := run(plan, &steadyClock{}, 0, 30)
	require.NotNil(t, r.Result())
	c := round.Record{Kind: "tap", Bars: "1-2"}
	c.Fill(r.Result(), plan.BeatMS)
	assert.True(t, c.Judged)
	assert.Equal(t, len(plan.Wants), c.Hit)
	assert.InDelta(t, 30, c.MeanMS, 0.5)
	assert.Contains(t, c.Findings, tap.CodeLead)
	assert.True(t, round.Help{}.Unaided())
	assert.False(t, round.Help{Line: true}.Unaided())
}

func TestAKeyIsHeldFromPressToRelease(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.BothHands})
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	r.Tick(1000, c)
	r.Press(tap.Tap{At: 2000, Hand: perf.Right, Key: 67, Strength: 90}, "67")
	r.Press(tap.Tap{At: 2010, Hand: perf.Left}, "KeyF")
	r.Release(2300, "67")
	r.Release(2310, "nothing")
	require.Len(t, r.Taps(), 2)
	assert.Equal(t, tap.Tap{At: 2000, Until: 2300, Hand: perf.Right, Key: 67, Strength: 90}, r.Taps()[0])
	assert.Zero(t, r.Taps()[1].Until, "still down")
}
