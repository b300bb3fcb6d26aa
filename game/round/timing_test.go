package round_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/round"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/synth/clock"
)

// movedClock is a steadyClock whose line has moved by some ms; what was asked
// before keeps the old one.
type movedClock struct {
	steadyClock
	moved    float64
	doubtful []clock.Span
}

func (c *movedClock) HeardAt(frame float64) (float64, bool) {
	ms, ok := c.steadyClock.HeardAt(frame)
	return ms + c.moved, ok
}
func (c *movedClock) Doubtful() []clock.Span { return c.doubtful }

// heardAt is when a plan's i-th want is heard in a round that begins at engine
// frame 0.
func heardAt(plan *round.Plan, i int) float64 { return 1000 + float64(plan.Frames[i])/48 }

// A landing may come late: taps are taken until 400 ms after the last sound,
// and then the round is over.
func TestHowLateATapStillCounts(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
	end := 1000 + float64(plan.Sequence.Length)/48
	for _, tt := range []struct {
		late  float64
		state round.State
		taps  int
	}{{399, round.Tapping, 1}, {401, round.Result, 0}} {
		c := &steadyClock{}
		r := round.Start(plan, 0, c, nil)
		r.Tick(end-100, c)
		assert.Equal(t, tt.state, r.Tick(end+tt.late, c))
		r.Tap(end+tt.late, perf.Right)
		assert.Len(t, r.Taps(), tt.taps, "%v ms after the end", tt.late)
	}
}

// A tap before the first onset is the first note played early, or the hand
// still counting: up to half a beat before, and a third of a second at most.
func TestHowEarlyATapCounts(t *testing.T) {
	for _, tt := range []struct {
		name           string
		percent, early float64
		extra          int
	}{
		{"a quarter of 500 ms, less than half of it", 100, 249, 1},
		{"more than half of it", 100, 251, 0},
		{"a quarter of a second, within a third of one", 50, 332, 1},
		{"beyond a third", 50, 334, 0},
	} {
		t.Run(tt.name, func(t *testing.T) {
			plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, CountIn: 1, Percent: tt.percent})
			c := &steadyClock{}
			r := round.Start(plan, 0, c, nil)
			r.Tick(1000, c)
			r.Tap(heardAt(plan, 0)-tt.early, perf.Right)
			for i := range plan.Frames {
				r.Tap(heardAt(plan, i), perf.Right)
			}
			for now := 1000.0; r.State() != round.Result; now += 100 {
				r.Tick(now, c)
			}
			_, made, _ := r.Judged()
			assert.Len(t, made, len(plan.Frames)+tt.extra)
			assert.Equal(t, tt.extra, r.Result().Extra)
		})
	}
}

// When a note was heard is written down half a second later: until then the
// clock may still learn, afterwards a leap of the device changes nothing.
func TestWhenHeardIsFixed(t *testing.T) {
	for _, tt := range []struct{ after, moved float64 }{{510, 0}, {490, 40}} {
		plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
		c := &movedClock{}
		r := round.Start(plan, 0, c, nil)
		r.Tick(heardAt(plan, 0)+tt.after, c)
		c.moved = 40
		for now := heardAt(plan, 0) + tt.after; r.State() != round.Result; now += 100 {
			r.Tick(now, c)
		}
		wants, _, _ := r.Judged()
		require.Len(t, wants, 4)
		assert.InDelta(t, heardAt(plan, 0)+tt.moved, wants[0].At, 1e-6, "%v ms after the first note", tt.after)
		assert.InDelta(t, heardAt(plan, 1)+40, wants[1].At, 1e-6)
	}
}

// What is stopped is judged on what was heard by then, and on no more.
func TestStoppedInTheMiddle(t *testing.T) {
	for _, tt := range []struct {
		name  string
		after float64 // ms after the second note
		wants int
	}{{"just after the second note", 10, 2}, {"just before it", -10, 1}} {
		plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
		c := &steadyClock{}
		r := round.Start(plan, 0, c, nil)
		at := heardAt(plan, 1) + tt.after
		r.Tick(heardAt(plan, 0)+501, c)
		r.Stop(at, c)
		if tt.after < 0 { // the first has not been fixed yet when it is stopped
			r = round.Start(plan, 0, c, nil)
			r.Tick(heardAt(plan, 0)+100, c)
			r.Stop(at, c)
			assert.Equal(t, round.Ready, r.State(), "nothing has been fixed: nothing to judge")
			continue
		}
		require.Equal(t, round.Result, r.State())
		wants, _, _ := r.Judged()
		assert.Len(t, wants, tt.wants, tt.name)
		assert.Equal(t, round.Result, r.Tick(at+1000, c), "over is over")
	}
}

// A round that only listens ends without a result, one that repeats never ends
// by itself, and one that waits for its clock stays where it is.
func TestEndings(t *testing.T) {
	c := &steadyClock{}
	heard := build(t, round.Settings{From: 1, To: 2, Play: round.BothHands})
	r := round.Start(heard, 0, c, nil)
	assert.Equal(t, round.Result, r.Tick(60_000, c))
	assert.Nil(t, r.Result())
	assert.Nil(t, r.Marks())
	assert.Zero(t, r.Lean())
	assert.Zero(t, r.Keys())

	again := build(t, round.Settings{From: 1, To: 2, Play: round.BothHands, Repeat: true})
	r = round.Start(again, 0, c, nil)
	assert.Equal(t, round.Listening, r.Tick(60_000, c))
	r.Stop(60_000, c)
	assert.Equal(t, round.Ready, r.State(), "listening leaves nothing to judge")
	assert.Equal(t, round.Ready, r.Tick(61_000, c))

	r = round.Start(heard, 0, silentClock{}, nil)
	assert.Equal(t, round.Counting, r.Tick(60_000, silentClock{}))
	_, ok := r.Place(60_000, silentClock{})
	assert.False(t, ok)
}

// silentClock does not know yet.
type silentClock struct{}

func (silentClock) HeardAt(float64) (float64, bool) { return 0, false }
func (silentClock) FrameAt(float64) (float64, bool) { return 0, false }
func (silentClock) Gaps() int                       { return 0 }
func (silentClock) Jumps() int                      { return 0 }
func (silentClock) Doubtful() []clock.Span          { return nil }

// The device's faults are told from the start of the round on, and the times
// around them are not judged.
func TestFaultsOfTheSound(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
	c := &movedClock{steadyClock: steadyClock{gaps: 3, jumps: 5}}
	r := round.Start(plan, 0, c, nil)
	r.Tick(2500, c)
	assert.Zero(t, r.Gaps())
	assert.Zero(t, r.Jumps())
	c.gaps, c.jumps = 4, 7
	c.doubtful = []clock.Span{{From: heardAt(plan, 1) - 100, To: heardAt(plan, 1) + 100}}
	for now := 2500.0; r.State() != round.Result; now += 100 {
		r.Tick(now, c)
	}
	assert.Equal(t, 1, r.Gaps())
	assert.Equal(t, 2, r.Jumps())
	_, _, gaps := r.Judged()
	assert.Equal(t, []tap.Span{{From: heardAt(plan, 1) - 100, To: heardAt(plan, 1) + 100}}, gaps)
	assert.Equal(t, 3, r.Result().Missed, "the note in the hole was not missed")
}

// In a repeated round that is tapped each pass has its own times.
func TestPassesOfARepeatedRound(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand, Repeat: true})
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	for now := 1000.0; now < heardAt(plan, 0)+4*1500; now += 20 {
		r.Tick(now, c)
	}
	r.Stop(heardAt(plan, 0)+4*1500-1, c)
	wants, _, _ := r.Judged()
	require.Len(t, wants, 12, "four passes of three quarters")
	for i, w := range wants {
		assert.InDelta(t, heardAt(plan, 0)+500*float64(i), w.At, 1e-6)
	}
}

// leaning is the waltz with an appoggiatura on the first beat of its first
// bar: dur quarters long, then its main note.
func leaning(t *testing.T, dur music.Frac, change func(*perf.Note)) *round.Plan {
	t.Helper()
	p, played := waltz()
	for i := range played.Notes {
		n := &played.Notes[i]
		if n.Hand != perf.Right || n.Onset != music.Int(1) && n.Onset != music.Int(2) {
			continue
		}
		n.Ornament, n.Measured, n.Index = "o1", true, 1
		if n.Onset == music.Int(1) {
			n.Index, n.Degree, n.Dur = 0, 1, dur
			change(n)
		}
	}
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 3, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	return plan
}

// The key of an appoggiatura comes up when its main note sounds. Below a
// quarter of a second there is no leaning to hear, and the release of any
// other note is the player's.
func TestWhichReleaseIsWanted(t *testing.T) {
	none := func(*perf.Note) {}
	for _, tt := range []struct {
		name   string
		dur    music.Frac
		change func(*perf.Note)
		ms     float64 // after the onset; 0 for none
	}{
		{"a quarter of half a second", music.Int(1), none, 500},
		{"a quarter of a second", music.F(1, 2), none, 250},
		{"a little less", music.F(15, 32), none, 0},
		{"the main note itself", music.Int(1), func(n *perf.Note) { n.Degree = 0 }, 0},
		{"free, as the first note of a trill", music.Int(1), func(n *perf.Note) { n.Measured = false }, 0},
	} {
		plan := leaning(t, tt.dur, tt.change)
		want := plan.Wants[0]
		if tt.ms == 0 {
			assert.Zero(t, want.Until, tt.name)
		} else {
			assert.InDelta(t, tt.ms, want.Until-want.At, 1e-6, tt.name)
		}
		assert.Zero(t, plan.Wants[1].Until, tt.name)
	}
}

// With three notes it is no appoggiatura and its main note, and a plain note
// has no release either.
func TestOnlyAPairLeans(t *testing.T) {
	p, played := waltz()
	for i := range played.Notes {
		if n := &played.Notes[i]; n.Hand == perf.Right && n.Onset.Cmp(music.Int(4)) < 0 {
			n.Ornament, n.Measured, n.Degree = "o1", true, 1
		}
	}
	plan, err := round.Build(p, played, nil, round.Settings{From: 1, To: 3, Tap: round.RightHand}, rate)
	require.NoError(t, err)
	for i, w := range plan.Wants {
		assert.Zero(t, w.Until, i)
	}
}

// The wanted release moves with the time at which its note was heard, and is
// only kept for somebody who holds keys: three or more of them, each longer
// than a tap lasts, or keys of an instrument, whose release is always known.
func TestTheWantedReleaseAsHeard(t *testing.T) {
	plan := leaning(t, music.Int(1), func(*perf.Note) {})
	const start = 7000 // engine frames: what the plan calls 0 is heard later
	for _, tt := range []struct {
		name string
		held []float64 // ms for which the first taps are held
		key  int
		kept bool
	}{
		{"three held for 200 ms", []float64{200, 200, 200}, 0, true},
		{"three a little shorter", []float64{199, 199, 199}, 0, false},
		{"two", []float64{200, 200, 199}, 0, false},
		{"keys of an instrument, however short", []float64{90, 90, 90}, 60, true},
		{"keys that were never let go", nil, 60, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := &movedClock{moved: 25}
			r := round.Start(plan, start, c, nil)
			r.Tick(1000, c)
			for i, f := range plan.Frames {
				at, _ := c.HeardAt(float64(start + f))
				id := string(rune('a' + i))
				r.Press(tap.Tap{At: at, Hand: perf.Right, Key: tt.key}, id)
				if i < len(tt.held) {
					r.Release(at+tt.held[i], id)
				}
			}
			for now := 1000.0; r.State() != round.Result; now += 100 {
				r.Tick(now, c)
			}
			judged, _, _ := r.Judged()
			if !tt.kept {
				assert.Zero(t, judged[0].Until)
				return
			}
			main, _ := c.HeardAt(float64(start + plan.Frames[1]))
			assert.InDelta(t, main, judged[0].Until, 1e-6, "when the main note was heard")
		})
	}
}

// A key is released once, and not before it was pressed.
func TestReleases(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 2, Tap: round.RightHand})
	c := &steadyClock{}
	r := round.Start(plan, 0, c, nil)
	r.Press(tap.Tap{At: 2000}, "a")
	r.Release(1990, "a")
	assert.Zero(t, r.Taps()[0].Until)
	r.Release(2100, "a")
	assert.Zero(t, r.Taps()[0].Until, "let go already")
	r.Press(tap.Tap{At: 2200}, "")
	r.Release(2300, "")
	assert.Zero(t, r.Taps()[1].Until, "without a name nothing is released")

	listening := round.Start(build(t, round.Settings{From: 1, To: 2, Play: round.BothHands}), 0, c, nil)
	listening.Tap(2000, perf.Right)
	assert.Empty(t, listening.Taps(), "who listens does not tap")
}

// With one hand chosen every key is that hand's.
func TestTheChosenHandTaps(t *testing.T) {
	for _, tt := range []struct {
		tap          round.Hands
		struck, made perf.Hand
	}{
		{round.RightHand, perf.Left, perf.Right}, {round.LeftHand, perf.Right, perf.Left},
		{round.BothHands, perf.Left, perf.Left}, {round.BothHands, perf.Right, perf.Right},
	} {
		c := &steadyClock{}
		r := round.Start(build(t, round.Settings{From: 1, To: 2, Tap: tt.tap}), 0, c, nil)
		r.Tap(2000, tt.struck)
		assert.Equal(t, tt.made, r.Taps()[0].Hand)
	}
}

// Nothing is written about the way: the place is where the sound is.
func TestPlaceWithoutAWay(t *testing.T) {
	plan := build(t, round.Settings{From: 1, To: 3, Tap: round.RightHand})
	c := &steadyClock{}
	r := round.Start(plan, 4800, c, nil)
	at, ok := r.Place(heardAt(plan, 2)+100, c)
	require.True(t, ok)
	assert.InDelta(t, 3, at.Quarters, 1e-6)
	assert.False(t, at.Leapt)
}
