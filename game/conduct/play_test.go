package conduct_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/conduct"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize/tap"
)

// listener is an ear that hears every note when it is due, or nothing.
type listener struct {
	h       *hall
	plan    *round.Plan
	opened  int
	refuses bool // the microphone of a later round is not opened
	deaf    bool
	steady  []bool
	dropped int
}

func (l *listener) Listen(p *round.Plan, begun func()) {
	l.opened++
	if l.refuses && l.opened > 1 {
		l.h.Conductor.Stop()
		return
	}
	l.plan = p
	begun()
}

func (l *listener) Enough(steady bool) {
	l.steady = append(l.steady, steady)
	p := l.plan
	l.plan = nil
	if p == nil {
		return
	}
	if l.deaf {
		l.h.Played(nil, nil, "Nothing was heard.")
		return
	}
	var taps []tap.Tap
	for _, w := range p.EveryKey(p.Wants) {
		taps = append(taps, tap.Tap{At: w.At, Hand: w.Hand, Key: w.Key})
	}
	l.h.Played(round.Heard(p, p.EveryKey(p.Wants), taps, false), []string{"a remark"}, "")
}

func (l *listener) Drop() { l.dropped++; l.plan = nil }

func TestPlayedBesideTheBeat(t *testing.T) {
	for name, tt := range map[string]struct {
		meanwhile practice.Meanwhile
		clicks    bool
		notes     bool
	}{
		"silence":           {practice.Silence, false, false},
		"the beat":          {practice.TheBeat, true, false},
		"the beat and hand": {practice.TheBeatAndHand, true, true},
	} {
		t.Run(name, func(t *testing.T) {
			h := newHall(t, "mordent")
			l := &listener{h: h}
			p := h.Conductor.Play(l, practice.Piano, tt.meanwhile)
			require.NotNil(t, p)
			assert.True(t, h.awake)
			assert.Equal(t, tt.clicks, len(p.Sequence.Clicks) > 0)
			assert.Equal(t, tt.notes, len(p.Sequence.Notes) > 0)
			assert.Equal(t, !tt.notes, p.Settings.Tap == round.BothHands)
			assert.False(t, h.Tapping(), "keys and glass are not asked for")
			if !tt.clicks {
				h.wait(10_000, nil)
				assert.Nil(t, h.Round, "nothing sounds")
				h.Conductor.Enough()
			} else {
				h.wait(900, nil)
				assert.Nil(t, h.Round, "what sounded before dies away first")
				h.wait(9000, func() bool { return h.State == round.Listening })
				require.Equal(t, round.Listening, h.State)
				h.Strike(true, tap.Tap{At: h.now}, "x", conduct.OnKeys)
				h.Desk.SetPercent(50)
				h.Resound()
				assert.False(t, h.replaced, "it stays as it began")
				h.wait(40_000, func() bool { return h.State == round.Result })
			}
			require.Equal(t, round.Result, h.State)
			assert.Equal(t, []bool{true}, l.steady)
			assert.False(t, h.playing)
			assert.False(t, h.awake)
			assert.False(t, h.Busy())
			assert.Contains(t, h.Result.Notes, "a remark")
			require.Len(t, h.records, 1)
			assert.True(t, h.records[0].Clean)
			assert.Equal(t, conduct.OnInstrument, h.with)
			assert.Equal(t, tt.clicks, h.records[0].Help.Clicks)
		})
	}
}

func TestWhatSoundsEndsWithTheListening(t *testing.T) {
	h := newHall(t, "mordent")
	l := &listener{h: h}
	begin := func() {
		require.NotNil(t, h.Conductor.Play(l, practice.Piano, practice.TheBeat))
		h.wait(9000, func() bool { return h.State == round.Listening })
	}
	begin()
	h.Conductor.Stop()
	assert.Equal(t, 1, l.dropped)
	assert.False(t, h.playing || h.awake || h.Busy())
	begin()
	h.Conductor.Enough()
	assert.False(t, h.playing || h.awake || h.Busy())
	assert.Equal(t, round.Result, h.State)
	begin()
	h.Played(nil, nil, "The listener stopped.")
	assert.False(t, h.playing || h.awake || h.Busy())
	assert.Equal(t, "The listener stopped.", h.Result.Summary)
	l.deaf = true
	begin()
	h.Conductor.Enough()
	assert.Equal(t, "Nothing was heard.", h.Result.Summary)
	assert.Equal(t, practice.Tap, h.Next.Kind)
	h = newHall(t, "mordent")
	l = &listener{h: h}
	h.silent = true
	h.Conductor.Play(l, practice.Piano, practice.TheBeat)
	h.wait(conduct.WaitMS+500, nil)
	assert.False(t, h.Busy(), "a device that gives no sound is given up")
	assert.Equal(t, 1, l.dropped)
	require.Len(t, h.said, 1)
	assert.Contains(t, h.said[0], "does not respond")
}

// A climb that is heard goes on by itself, a microphone for each round.
func TestAClimbAtTheInstrument(t *testing.T) {
	h := newHall(t, "mordent")
	l := &listener{h: h}
	first := h.Conductor.Play(l, practice.Climb, practice.TheBeat)
	require.NotNil(t, first)
	assert.InDelta(t, 60, first.Settings.Percent, 1e-9)
	h.wait(600_000, func() bool { return h.State == round.Result })
	require.Equal(t, round.Result, h.State)
	assert.Contains(t, h.Result.Summary, "Arrived")
	assert.Greater(t, l.opened, 3)
	require.Len(t, h.records, l.opened)
	for i, r := range h.records {
		assert.Equal(t, practice.Climb, r.Kind)
		assert.True(t, r.Judged)
		if i > 0 {
			assert.GreaterOrEqual(t, r.Tempo, h.records[i-1].Tempo-1e-6)
		}
	}
	assert.Empty(t, h.Next.Kind, "what it would lead to is tapped")
	assert.False(t, h.Busy())

	// Who stops has the round judged that sounds, and is asked no further.
	h = newHall(t, "mordent")
	l = &listener{h: h}
	h.Conductor.Play(l, practice.Climb, practice.TheBeat)
	h.wait(20_000, func() bool { return h.State == round.Listening })
	h.Conductor.Enough()
	assert.Equal(t, round.Result, h.State)
	assert.Len(t, h.records, 1)
	assert.Equal(t, 1, l.opened)

	// A microphone that is refused on the way leaves what was climbed.
	h = newHall(t, "mordent")
	l = &listener{h: h, refuses: true}
	h.Conductor.Play(l, practice.Climb, practice.TheBeat)
	h.wait(60_000, func() bool { return h.State == round.Result })
	assert.Equal(t, round.Result, h.State)
	assert.Len(t, h.records, 1)
	assert.False(t, h.Busy())
}
