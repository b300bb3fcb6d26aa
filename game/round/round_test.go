package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/synth"
	"agremens/synth/clock"
)

const rate = 48000

// waltz is a pickup quarter and three 3/4 measures of quarters in the right
// hand over dotted halves in the left, at 120 quarters a minute: a quarter
// lasts half a second, 24,000 frames.
func waltz() (*score.Passage, *perf.Performance) {
	p := &score.Passage{Staves: 2}
	three := music.Metre{Beats: 3, Unit: 4}
	p.Measures = []score.Measure{{Number: "0", Length: music.Int(1), Metre: three, Implicit: true}}
	for i := int64(0); i < 3; i++ {
		p.Measures = append(p.Measures, score.Measure{
			Number: string(rune('1' + i)), Onset: music.Int(1 + 3*i), Length: music.Int(3), Metre: three,
		})
	}
	played := &perf.Performance{Tempo: perf.Steady(120), End: music.Int(10)}
	add := func(onset, dur int64, pitch string, hand perf.Hand) {
		played.Notes = append(played.Notes, perf.Note{Onset: music.Int(onset), Dur: music.Int(dur), Pitch: music.MustPitch(pitch), Hand: hand, Strength: 0.6})
	}
	for q := int64(0); q < 10; q++ {
		add(q, 1, "G4", perf.Right)
		if q%3 == 1 {
			add(q, 3, "G2", perf.Left)
		}
		played.Beats = append(played.Beats, perf.Beat{Onset: music.Int(q), Strong: q%3 == 1})
	}
	return p, played
}

func build(t *testing.T, s round.Settings) *round.Plan {
	t.Helper()
	p, played := waltz()
	plan, err := round.Build(p, played, nil, s, rate)
	require.NoError(t, err)
	return plan
}

func TestCountInKeepsThePickupInItsPlace(t *testing.T) {
	plan := build(t, round.Settings{From: 0, To: 2, Tap: round.RightHand, CountIn: 1})
	// One bar of three and the two beats before the pickup: five clicks.
	require.Len(t, plan.Sequence.Clicks, 5)
	assert.Equal(t, int64(5*24000), plan.Lead)
	assert.Equal(t, synth.Strong, plan.Sequence.Clicks[0].Kind)
	assert.Equal(t, synth.Strong, plan.Sequence.Clicks[3].Kind)
	assert.Equal(t, plan.Lead, plan.Frames[0], "the pickup is the first onset wanted")
}

func TestCountInOfAWholeMeasure(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, CountIn: 1})
	assert.Len(t, plan.Sequence.Clicks, 3)
	plan = build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, CountIn: 0})
	assert.Empty(t, plan.Sequence.Clicks)
	assert.Equal(t, int64(rate), plan.Lead, "no count-in leaves a second of silence")
}

func TestARoundRunsOnToItsLanding(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Play: round.LeftHand})
	require.Len(t, plan.Wants, 4, "three quarters and the first of the next measure")
	assert.True(t, plan.Wants[3].Landing)
	assert.False(t, plan.Wants[2].Landing)
	assert.True(t, plan.Wants[0].Beat)
	assert.True(t, plan.Wants[0].Strong)
	require.Len(t, plan.Sequence.Notes, 2, "the left hand's two dotted halves, the landing's too")
}

func TestNoLandingAfterTheLastMeasure(t *testing.T) {
	plan := build(t, round.Settings{From: 3, To: 4, Tap: round.RightHand})
	require.Len(t, plan.Wants, 3)
	assert.False(t, plan.Wants[2].Landing)
}

func TestARepeatedRoundLoopsWithoutLanding(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Play: round.BothHands, Repeat: true})
	assert.True(t, plan.Sequence.Loop)
	assert.Equal(t, plan.Lead, plan.Sequence.LoopStart)
	assert.Equal(t, plan.Lead+3*24000, plan.Sequence.Length)
	for _, n := range plan.Sequence.Notes {
		assert.LessOrEqual(t, n.End, plan.Sequence.Length)
	}
	assert.InDelta(t, 1.5, plan.Quarters(float64(plan.Lead)+3*24000+12000), 1e-9, "half a beat into the second time")
}

func TestTempoScalesEverything(t *testing.T) {
	slow := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Percent: 50})
	assert.Equal(t, int64(48000), slow.Frames[1]-slow.Frames[0])
	assert.InDelta(t, 1000, slow.BeatMS, 1e-9)
	bounded := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Percent: 5})
	assert.Equal(t, 20.0, bounded.Settings.Percent)
}

func TestErrors(t *testing.T) {
	p, played := waltz()
	_, err := round.Build(p, played, nil, round.Settings{From: 2, To: 2}, rate)
	assert.ErrorIs(t, err, round.ErrNoMeasures)
	_, err = round.Build(p, played, nil, round.Settings{From: 0, To: 1, Tap: round.LeftHand}, rate)
	assert.ErrorIs(t, err, round.ErrNothing, "the pickup holds nothing for the left hand; a landing alone is no round")
}

// steadyClock hears frame 0 at 1,000 ms.
type steadyClock struct{ gaps, jumps int }

func (c *steadyClock) HeardAt(frame float64) (float64, bool) { return 1000 + frame*1000/rate, true }
func (c *steadyClock) FrameAt(ms float64) (float64, bool)    { return (ms - 1000) * rate / 1000, true }
func (c *steadyClock) Gaps() int                             { return c.gaps }
func (c *steadyClock) Jumps() int                            { return c.jumps }
func (c *steadyClock) Doubtful() []clock.Span                { return nil }

// run plays a round on, tapping every want with a delay in milliseconds.
func run(plan *round.Plan, c *steadyClock, engineFrame int64, delay float64) *round.Round {
	r := round.Start(plan, engineFrame, c, nil)
	next := 0
	for now := 1000.0; r.State() != round.Result && now < 60000; now += 20 {
		r.Tick(now, c)
		for next < len(plan.Frames) {
			heard, _ := c.HeardAt(float64(engineFrame + plan.Frames[next]))
			if heard+delay > now {
				break
			}
			r.Tap(heard+delay, perf.Right)
			next++
		}
	}
	return r
}

func TestARobotsDelayIsReported(t *testing.T) {
	for _, delay := range []float64{-80, -40, 0, 40, 80} {
		plan := build(t, round.Settings{From: 1, To: 3, Tap: round.RightHand})
		r := run(plan, &steadyClock{}, 7000, delay)
		require.Equal(t, round.Result, r.State())
		result := r.Result()
		require.NotNil(t, result)
		assert.InDelta(t, delay, result.MeanMS, 0.5)
		assert.Equal(t, len(plan.Wants), result.Hit)
		assert.Zero(t, result.Missed)
		assert.Zero(t, result.Extra)
	}
}

func TestStates(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, CountIn: 1})
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	assert.Equal(t, round.Counting, r.Tick(1100, c))
	assert.Equal(t, round.Tapping, r.Tick(1000+1500+10, c))
	r.Stop(1000+1500+20, c)
	assert.Equal(t, round.Ready, r.State(), "stopped before anything was heard: nothing to judge")
	listening := round.Start(build(t, round.Settings{From: 1, To: 2, Play: round.BothHands}), 0, c, nil)
	assert.Equal(t, round.Listening, listening.Tick(1000+1010, c))
}

func TestTapsWhileCountingInAreNotExtra(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, CountIn: 1})
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	r.Tick(1000, c)
	for i := range 3 {
		r.Tap(1000+500*float64(i), perf.Right)
	}
	for now := 1000.0; now < 9000; now += 20 {
		r.Tick(now, c)
	}
	require.NotNil(t, r.Result())
	assert.Zero(t, r.Result().Extra)
	assert.Equal(t, 4, r.Result().Missed)
}

func TestAGapIsTold(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
	c := &steadyClock{gaps: 3}
	r := round.Start(plan, 0, c, nil)
	r.Tick(2500, c)
	c.gaps++
	r.Tick(2520, c)
	assert.Equal(t, 1, r.Gaps(), "only what happened during the round")
}

func TestKeysBelongToTheHandTheyLieUnder(t *testing.T) {
	for code, want := range map[string]perf.Hand{
		"KeyF": perf.Left, "KeyA": perf.Left, "Digit1": perf.Left, "KeyB": perf.Left, "KeyG": perf.Left,
		"KeyJ": perf.Right, "KeyH": perf.Right, "KeyN": perf.Right, "Semicolon": perf.Right, "Space": perf.Right,
	} {
		hand, ok := round.HandOfKey(code)
		assert.True(t, ok, code)
		assert.Equal(t, want, hand, code)
	}
	for _, code := range []string{"", "Escape", "Tab", "ShiftLeft", "F5", "ArrowLeft", "Key"} {
		_, ok := round.HandOfKey(code)
		assert.False(t, ok, code)
	}
}

func TestAnotherTempoJoinsAtTheNextBeat(t *testing.T) {
	p, played := waltz()
	settings := round.Settings{From: 1, To: 3, Play: round.BothHands, Repeat: true}
	old, err := round.Build(p, played, nil, settings, rate)
	require.NoError(t, err)
	settings.Percent = 50
	slow, err := round.Build(p, played, nil, settings, rate)
	require.NoError(t, err)
	const origin = 10000
	r := round.Start(old, origin, &steadyClock{}, nil)
	second := slow.Lead + 48000*2 // the third quarter of measure 1 at half tempo
	for _, tc := range []struct {
		name     string
		rendered int64
		want     round.Join
	}{
		{"while counting in", origin + 100, round.Join{At: origin + old.Lead, From: slow.Lead}},
		{"between the second and the third quarter", origin + old.Lead + 30000, round.Join{At: origin + old.Lead + 48000, From: second}},
		{"in the second pass", origin + old.Lead + 6*24000 + 30000, round.Join{At: origin + old.Lead + 8*24000, From: second}},
		{"in the last quarter", origin + old.Lead + 5*24000 + 1, round.Join{At: origin + old.Lead + 6*24000, From: slow.Lead}},
	} {
		assert.Equal(t, tc.want, r.JoinAt(slow, tc.rendered), tc.name)
	}
}

func TestMarksStandWhereTheTapsFell(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	r.Tick(1000, c)
	heard := func(i int) float64 { ms, _ := c.HeardAt(float64(plan.Frames[i])); return ms }
	// The first 50 ms late, the second missed, one too many half a quarter
	// after the third; a quarter lasts 500 ms.
	r.Tap(heard(0)+50, perf.Right)
	r.Tap(heard(2), perf.Right)
	r.Tap(heard(2)+250, perf.Right)
	r.Tap(heard(3), perf.Right)
	for now := 1000.0; r.State() != round.Result; now += 20 {
		r.Tick(now, c)
	}
	marks := r.Marks()
	require.Len(t, marks, 5)
	assert.InDelta(t, marks[0].Wanted+0.1, marks[0].At, 1e-9)
	assert.True(t, marks[1].Missed)
	assert.InDelta(t, marks[2].Wanted+0.5, marks[3].At, 1e-9, "the extra tap")
}
