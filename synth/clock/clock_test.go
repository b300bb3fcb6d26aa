package clock_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/synth/clock"
)

const rate = 48000

// browser simulates an audio context and what a main thread sees of it.
// Times in ms; a frame of the context is heard at origin + frame/48 + delay.
type browser struct {
	random *rand.Rand
	origin float64 // performance.now() at context time 0
	delay  float64 // from currentTime's line to the ear
	engine string
	gap    float64 // frames of silence so far
	now    float64
}

func newBrowser(engine string, seed uint64) *browser {
	return &browser{random: rand.New(rand.NewPCG(seed, 1)), origin: 1234.5, delay: 55, engine: engine, now: 1300}
}

// run feeds the clock for so many ms: a sample every 50 ms with jitter, a
// mark every 85.
func (b *browser) run(c *clock.Clock, ms float64) {
	nextMark := b.now
	for end := b.now + ms; b.now < end; b.now += 50 + 8*b.random.Float64() {
		for ; nextMark < b.now; nextMark += 4096 / 48.0 {
			context := math.Floor((nextMark-b.origin)*48/128) * 128
			c.Mark(clock.Mark{Context: context, Played: context - 9600 - b.gap, Gap: b.gap, Left: 8000}, b.now)
		}
		c.Sample(b.sample())
	}
}

func (b *browser) sample() clock.Sample {
	context := b.now - b.origin // ms, as it would be without blocks
	s := clock.Sample{Now: b.now, BaseLatency: 0.01}
	switch b.engine {
	case "chromium": // currentTime is up to 10 ms old; the output timestamp jitters by 6
		s.Current = (context - 10*b.random.Float64()) / 1000
		at := b.now - 20*b.random.Float64()
		s.OutContext = (at - b.origin - b.delay + 12*b.random.Float64() - 6) / 1000
		s.OutPerformance = at
		s.OutputLatency = 0.032
	case "firefox": // the output timestamp lies on currentTime's line
		s.Current = (context - b.old()) / 1000
		s.OutContext, s.OutPerformance = s.Current-b.delay/1000, b.now-b.delay
		s.OutputLatency = b.delay / 1000
	case "webkit": // a nonsensical timestamp, no latency told
		s.Current = (context - b.old()) / 1000
		s.OutContext, s.OutPerformance = s.Current, b.now+s.Current*1000
	}
	return s
}

// old is how old currentTime is, in ms: up to a block of 10, and on a page
// that is busy for 15 of every 50 ms sometimes that much more.
func (b *browser) old() float64 {
	age := 10 * b.random.Float64()
	if b.random.Float64() < 0.3 {
		age += 15 * b.random.Float64()
	}
	return age
}

// truth is when our frame is heard.
func (b *browser) truth(frame float64) float64 { return b.origin + b.delay + (frame+9600+b.gap)/48 }

func TestHeardAt(t *testing.T) {
	tests := []struct {
		engine string
		extra  float64
		told   bool
	}{
		{"chromium", 0, true},
		{"firefox", 0, true},
		{"webkit", 55, false}, // calibration's
	}
	for _, tt := range tests {
		for seed := range uint64(20) {
			c, b := clock.New(rate), newBrowser(tt.engine, seed)
			c.Extra(tt.extra)
			b.run(c, 20_000)
			for frame := 200_000.0; frame < 900_000; frame += 12_345 {
				ms, ok := c.HeardAt(frame)
				require.True(t, ok)
				want := b.truth(frame)
				assert.InDelta(t, want, ms, 5, "%s, seed %d, frame %.0f", tt.engine, seed, frame)
			}
			status := c.Status()
			assert.True(t, status.Ready && status.Sure && status.Exact, tt.engine)
			assert.Equal(t, tt.told, status.LatencyTold, tt.engine)
			assert.Zero(t, c.Gaps())
			assert.Zero(t, c.Jumps())
			frame, ok := c.FrameAt(b.truth(500_000))
			assert.True(t, ok)
			assert.InDelta(t, 500_000, frame, 5*48)
		}
	}
}

// In its first second WebKit's output timestamp is nonsense of a size that
// could pass for a delay.
func TestWebKitFromTheStart(t *testing.T) {
	c, b := clock.New(rate), newBrowser("webkit", 8)
	b.now = b.origin + 20
	for range 60 {
		b.run(c, 50)
		assert.False(t, c.Status().LatencyTold)
		if ms, ok := c.HeardAt(10_000); ok {
			assert.InDelta(t, b.truth(10_000)-b.delay, ms, 5)
		}
	}
	assert.Zero(t, c.Jumps())
}

func TestReadyWaitsForMarksToMove(t *testing.T) {
	c, b := clock.New(rate), newBrowser("chromium", 1)
	for range 100 { // the context says it runs, but the device is not open yet
		s := b.sample()
		s.Current = 0
		c.Sample(s)
		b.now += 50
	}
	_, ok := c.HeardAt(0)
	assert.False(t, ok)
	c.Mark(clock.Mark{Context: 0, Played: 0}, b.now)
	assert.False(t, c.Status().Ready, "one mark does not move")
	b.run(c, 500)
	assert.True(t, c.Status().Ready)
	assert.False(t, c.Status().Sure)
	b.run(c, 4000)
	assert.True(t, c.Status().Sure)
}

func TestGap(t *testing.T) {
	c, b := clock.New(rate), newBrowser("chromium", 2)
	b.run(c, 5000)
	before := c.Gaps()
	at := b.now
	b.gap = 1920 // 40 ms of silence
	b.run(c, 5000)
	assert.Equal(t, before+1, c.Gaps())
	require.Len(t, c.Doubtful(), 1)
	span := c.Doubtful()[0]
	assert.Less(t, span.From, at+b.delay)
	assert.Greater(t, span.To, at-150)
	assert.Less(t, span.To-span.From, 300.0)

	ms, ok := c.HeardAt(400_000)
	require.True(t, ok)
	assert.InDelta(t, b.truth(400_000), ms, 5, "after the gap")
	old := *b
	old.gap = 0
	ms, _ = c.HeardAt(100_000)
	assert.InDelta(t, old.truth(100_000), ms, 5, "before it, asked afterwards")
	frame, _ := c.FrameAt(old.truth(100_000))
	assert.InDelta(t, 100_000, frame, 5*48)
}

func TestJump(t *testing.T) {
	for _, moved := range []float64{-64, 30, 350} {
		c, b := clock.New(rate), newBrowser("chromium", 3)
		b.run(c, 8000)
		old := *b
		b.origin += moved // the device stalled: the context fell behind
		if moved < 0 {
			b.now -= moved // and time never runs back
		}
		b.run(c, 4000)
		assert.Equal(t, 1, c.Jumps(), "moved %v", moved)
		assert.NotEmpty(t, c.Doubtful())
		ms, ok := c.HeardAt(480_000)
		require.True(t, ok)
		assert.InDelta(t, b.truth(480_000), ms, 5, "after it")
		ms, _ = c.HeardAt(100_000)
		assert.InDelta(t, old.truth(100_000), ms, 5, "before it")
	}
}

func TestStateThrowsTheMapAway(t *testing.T) {
	c, b := clock.New(rate), newBrowser("chromium", 4)
	b.run(c, 6000)
	c.State(b.now, false)
	_, ok := c.HeardAt(300_000)
	assert.False(t, ok, "suspended")
	b.now += 2900
	b.origin += 2900
	c.State(b.now, true)
	_, ok = c.HeardAt(300_000)
	assert.False(t, ok, "not yet moving")
	b.run(c, 5000)
	ms, ok := c.HeardAt(400_000)
	assert.True(t, ok)
	assert.InDelta(t, b.truth(400_000), ms, 5)
	assert.Equal(t, 1, c.Jumps(), "the round is told")
	require.Len(t, c.Doubtful(), 1, "and judges nothing near the pause")
	assert.Greater(t, c.Doubtful()[0].To-c.Doubtful()[0].From, 2900.0)
}

func TestAnotherOutput(t *testing.T) {
	c, b := clock.New(rate), newBrowser("chromium", 4)
	c.Disturb(b.now)
	assert.Zero(t, c.Jumps(), "nothing sounded yet")
	b.run(c, 6000)
	c.Disturb(b.now)
	assert.Equal(t, 1, c.Jumps())
	assert.Len(t, c.Doubtful(), 1)
	assert.False(t, c.Status().Sure)
	b.delay += 150 // as over the air
	b.run(c, 6000)
	ms, ok := c.HeardAt(500_000)
	assert.True(t, ok)
	assert.InDelta(t, b.truth(500_000), ms, 5)
	assert.Equal(t, 1, c.Jumps(), "told once")
}

func TestInexact(t *testing.T) {
	c, b := clock.New(rate), newBrowser("chromium", 5)
	c.Inexact()
	b.run(c, 8000)
	_, ok := c.HeardAt(100_000)
	assert.True(t, ok, "good enough to follow with the eye")
	assert.False(t, c.Status().Sure, "not to judge by")
}

func TestPadding(t *testing.T) {
	a, b := clock.New(rate), clock.New(rate)
	x, y := newBrowser("firefox", 6), newBrowser("firefox", 6)
	b.Padding(4096)
	x.run(a, 5000)
	y.run(b, 5000)
	with, _ := a.HeardAt(104_096)
	without, _ := b.HeardAt(100_000)
	assert.InDelta(t, with, without, 1e-9)
}

func TestReset(t *testing.T) {
	c, b := clock.New(rate), newBrowser("chromium", 7)
	c.Extra(12)
	b.run(c, 5000)
	c.Reset()
	_, ok := c.HeardAt(1)
	assert.False(t, ok)
	assert.Zero(t, c.Gaps())
	b.run(c, 5000)
	ms, _ := c.HeardAt(300_000)
	assert.InDelta(t, b.truth(300_000)+12, ms, 5, "the extra delay stays")
}
