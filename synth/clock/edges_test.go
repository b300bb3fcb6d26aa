package clock_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/synth/clock"
)

// feed gives a clock samples without jitter, one every 50 ms, and a mark with
// each, so that the edge of a limit can be met exactly. Our first frame stands
// at the context's frame 9600.
type feed struct {
	*clock.Clock
	now    float64 // ms
	offset float64 // ms: now - context time
	gap    float64 // frames of silence so far
	sample clock.Sample
}

const apart = 50 // ms between two samples

func newFeed() *feed {
	return &feed{Clock: clock.New(rate), now: 2000, offset: 1000}
}

// run feeds n samples on a line that lies moved ms from where it began.
func (f *feed) run(n int, moved float64) {
	for range n {
		f.now += apart
		f.one(moved)
	}
}

// one feeds a sample and a mark at the present time.
func (f *feed) one(moved float64) {
	s := f.sample
	s.Now, s.Current = f.now, (f.now-f.offset-moved)/1000
	if s.OutPerformance != 0 {
		s.OutPerformance += s.Now
		s.OutContext += s.Current
	}
	f.Sample(s)
	f.mark(s.Current * rate)
}

func (f *feed) mark(context float64) {
	f.Mark(clock.Mark{Context: context, Played: context - 9600 - f.gap, Gap: f.gap}, f.now)
}

// output makes the output timestamp name the present, on a line ms later than
// that of currentTime, as old ms before now.
func (f *feed) output(ms, old float64) {
	f.sample.OutPerformance = -old
	f.sample.OutContext = -(old + ms) / 1000
}

// moved tells how far from where it began the line lies at a context time.
func (f *feed) moved(t *testing.T, context float64) float64 {
	t.Helper()
	ms, ok := f.HeardAt(context*rate - 9600)
	require.True(t, ok)
	return ms - context*1000 - f.offset
}

// A move of the line is a jump when it is wider than what jitter does
// (currentTime is up to 10 ms old, output timestamps jitter by 6 either way)
// and lasts for longer than a busy page is late (8 samples, 0.4 s).
func TestWhatIsAJump(t *testing.T) {
	tests := []struct {
		name   string
		before int
		after  []struct {
			n     int
			moved float64
		}
		jumps int
	}{
		{"wider than jitter, later", 60, moves(8, 14.5), 1},
		{"wider than jitter, earlier", 60, moves(8, -14.5), 1},
		{"as wide as jitter, later", 60, moves(40, 13.5), 0},
		{"as wide as jitter, earlier", 60, moves(40, -13.5), 0},
		{"wide but over after seven samples", 60, append(moves(7, 30), moves(20, 0)...), 0},
		{"lasting, but one sample back on the old line", 60, append(append(moves(4, 30), moves(1, -1)...), moves(4, 30)...), 0},
		{"fifteen samples are too few to know where the line was", 15, moves(8, 30), 0},
		{"sixteen are enough", 16, moves(8, 30), 1},
		{"it is told once", 60, moves(100, 30), 1},
		{"there and back are two", 60, append(moves(60, 30), moves(60, 0)...), 2},
		// Only the last three seconds say where the line was: a device whose
		// clock wanders has not jumped.
		{"a move of twenty against most of them", 200, append(moves(25, 10), moves(8, 20)...), 1},
		{"a wandering line", 200, append(moves(40, 10), moves(20, 20)...), 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := newFeed()
			f.run(tt.before, 0)
			for _, a := range tt.after {
				f.run(a.n, a.moved)
			}
			assert.Equal(t, tt.jumps, f.Jumps())
			assert.Len(t, f.Doubtful(), tt.jumps)
		})
	}
}

func moves(n int, moved float64) []struct {
	n     int
	moved float64
} {
	return []struct {
		n     int
		moved float64
	}{{n, moved}}
}

// The time before a jump keeps its line, the time after it has the new one,
// and a moment between their samples goes with the nearer.
func TestAroundAJump(t *testing.T) {
	f := newFeed()
	f.run(60, 0)
	last := (f.now - f.offset) / 1000
	f.run(40, 20)
	first := last + (apart-20)/1000.0
	assert.InDelta(t, 0, f.moved(t, last-1), 1e-6)
	assert.InDelta(t, 0, f.moved(t, last+0.4*(first-last)), 1e-6)
	assert.InDelta(t, 20, f.moved(t, last+0.6*(first-last)), 1e-6)
	assert.InDelta(t, 20, f.moved(t, first+0.5), 1e-6)
	assert.InDelta(t, 20, f.moved(t, first+100), 1e-6, "what is to come is on the new line")
}

// After the output changed nobody knows yet when what comes will be heard;
// what was heard before is known as well as ever.
func TestOnlyThePastIsKnownAfterAChange(t *testing.T) {
	f := newFeed()
	f.run(60, 0)
	last := (f.now - f.offset) / 1000
	f.Disturb(f.now)
	_, ok := f.HeardAt((last+0.5)*rate - 9600)
	assert.False(t, ok)
	assert.InDelta(t, 0, f.moved(t, last-0.5), 1e-6)
	f.run(1, 5)
	assert.InDelta(t, 5, f.moved(t, last+0.5), 1e-6)
	assert.InDelta(t, 0, f.moved(t, last-0.5), 1e-6, "the samples of two outputs don't mix")
}

// currentTime's line is its lower edge within 1.5 s either side: it is never
// ahead, but a tenth of the samples may be strays. 61 samples stand in the
// three seconds, so six may lie below the line and seven are the line.
func TestLowerEdge(t *testing.T) {
	for _, tt := range []struct {
		name  string
		low   int // samples in the window from before the line rose by 8 ms
		moved float64
	}{
		{"six strays", 6, 8},
		{"seven are no strays", 7, 0},
		{"all on the old line", 61, 0},
		{"none of the old line", 0, 8},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := newFeed()
			f.run(100, 0)
			rose := f.now // the last sample on the old line
			f.run(100, 8)
			// The window begins so that it holds so many of the old line, half
			// a sample before the first of them.
			begin := (rose-f.offset)/1000 - (float64(tt.low)-0.5)*apart/1000
			if tt.low == 0 {
				begin = (rose-f.offset)/1000 + 0.021
			}
			// The middle is that of the nearest sample.
			assert.InDelta(t, tt.moved, f.moved(t, begin+1.5+0.02), 1e-6)
		})
	}
}

// What lies beyond the last sample is answered from the last three seconds.
func TestLowerEdgeOfTheLatest(t *testing.T) {
	for _, tt := range []struct {
		after int // samples since the line rose by 8 ms
		moved float64
	}{{53, 0}, {55, 8}} {
		f := newFeed()
		f.run(100, 0)
		f.run(tt.after, 8)
		ahead := (f.now-f.offset)/1000 + 1
		assert.InDelta(t, tt.moved, f.moved(t, ahead), 1e-6, "%d samples after it rose", tt.after)
	}
}

// An output timestamp jitters to both sides, so its line is the median: a
// third of the samples far off on one side leave it where it is.
func TestOutputLineIsTheMedian(t *testing.T) {
	f := newFeed()
	f.output(30, 10)
	f.run(30, 0)
	for i := range 90 {
		f.output(30, 10)
		if i%3 == 0 {
			f.output(18, 10)
		}
		f.run(1, 0)
	}
	assert.InDelta(t, 30, f.moved(t, 2.5), 1e-6)
	assert.InDelta(t, 30, f.Status().LatencyMS, 1e-6)
	assert.Zero(t, f.Jumps())
}

// An output timestamp is believed only where it holds a delay of its own, and
// could have been taken now.
func TestWhichTimestampIsBelieved(t *testing.T) {
	tests := []struct {
		name    string
		ms, old float64 // later than currentTime's line; how old
		told    bool
	}{
		{"Chromium: it names what left the output", 30, 10, true},
		{"a delay just beyond what the line of currentTime wanders", 4.1, 10, true},
		{"no delay in it: a copy of currentTime's line", 3.9, 10, false},
		{"it lies behind the line: nonsense", -30, 10, false},
		{"up to a second old: a page that was busy", 30, 999, true},
		{"older than a second: of before a pause", 30, 1001, false},
		{"a little ahead: the next block", 30, -29, true},
		{"far ahead: WebKit adds the whole context time", 30, -31, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := newFeed()
			f.now = 5000 // far enough that a second ago is a time of the context
			f.output(tt.ms, tt.old)
			f.run(19, 0)
			assert.False(t, f.Status().LatencyTold, "a second of samples first")
			f.run(60, 0)
			assert.Equal(t, tt.told, f.Status().LatencyTold)
			want := 0.0
			if tt.told {
				want = tt.ms
			}
			assert.InDelta(t, want, f.Status().LatencyMS, 1e-6)
			assert.InDelta(t, want, f.moved(t, (f.now-f.offset)/1000), 1e-6)
			assert.Zero(t, f.Jumps(), "choosing is not a jump of the device")
		})
	}
}

// Twenty samples, one second, choose the line.
func TestHowSoonATimestampIsBelieved(t *testing.T) {
	f := newFeed()
	f.output(30, 10)
	f.run(19, 0)
	assert.False(t, f.Status().LatencyTold)
	f.run(1, 0)
	assert.True(t, f.Status().LatencyTold)
}

// Once believed it is left only when hardly any delay is left in it, so that
// jitter around the limit does not throw the map away again and again.
func TestATimestampIsNotDroppedLightly(t *testing.T) {
	for _, tt := range []struct {
		ms   float64
		told bool
	}{{2.1, true}, {1.9, false}} {
		f := newFeed()
		f.output(6, 10)
		f.run(40, 0)
		require.True(t, f.Status().LatencyTold)
		f.output(tt.ms, 10)
		f.run(40, 0)
		assert.Equal(t, tt.told, f.Status().LatencyTold, "%v ms", tt.ms)
	}
}

// A sample that says nothing is not taken for one that does.
func TestSamplesThatSayNothing(t *testing.T) {
	f := newFeed()
	f.output(30, 10)
	f.run(60, 0)
	f.sample = clock.Sample{} // for a moment no output timestamp
	f.run(9, 0)
	assert.InDelta(t, 30, f.moved(t, (f.now-f.offset)/1000), 1e-6)

	f = newFeed()
	f.run(60, 0)
	for range 30 { // the context's time stands still, the page's does not
		f.now += apart
		f.Sample(clock.Sample{Now: f.now, Current: 2})
	}
	assert.Zero(t, f.Jumps())
	assert.InDelta(t, 0, f.moved(t, 3), 1e-6)
}

// Firefox tells how late its output is heard; that much later it is heard.
func TestOutputLatency(t *testing.T) {
	f := newFeed()
	f.sample.OutputLatency = 0.032
	f.run(60, 0)
	assert.True(t, f.Status().LatencyTold)
	assert.InDelta(t, 32, f.Status().LatencyMS, 1e-6)
	assert.InDelta(t, 32, f.moved(t, 2), 1e-6)
}

// What was heard a quarter of an hour ago, as long as a long round, is still
// known; what is older than twenty minutes is forgotten, so that a page that
// stays open does not grow.
func TestHowLongItRemembers(t *testing.T) {
	const minute = 60 * 1000 / apart // samples
	f := newFeed()
	f.run(10*minute, 0)
	then := (f.now - f.offset) / 1000
	f.run(10*minute-1, 8)
	assert.InDelta(t, 0, f.moved(t, 1), 1e-6, "twenty minutes ago")
	f.run(5*minute, 8)
	assert.InDelta(t, 0, f.moved(t, then-4), 1e-6, "a quarter of an hour ago")
	f.run(15*minute, 8)
	assert.InDelta(t, 8, f.moved(t, 60), 1e-6, "forgotten: it answers from the oldest it has")
}

// Taps are judged only when for two seconds nothing was amiss and the samples
// of one second agree within 12 ms, the most that a device's jitter makes.
func TestWhenItIsSure(t *testing.T) {
	amiss := map[string]func(*feed){
		"another output": func(f *feed) { f.Disturb(f.now) },
		"a gap":          func(f *feed) { f.gap += 480 },
		"a jump":         func(f *feed) { f.run(8, 20); f.offset += 20 },
		"a pause":        func(f *feed) { f.State(f.now, false); f.State(f.now, true) },
	}
	for name, happens := range amiss {
		t.Run(name, func(t *testing.T) {
			f := newFeed()
			f.run(100, 0)
			require.True(t, f.Status().Sure)
			happens(f)
			if name == "a gap" || name == "a pause" { // known with the next mark
				f.run(1, 0)
			}
			assert.False(t, f.Status().Sure)
			f.run(1990/apart, 0)
			assert.False(t, f.Status().Sure, "after a little less than two seconds")
			f.run(1, 0)
			assert.True(t, f.Status().Sure, "after two seconds")
		})
	}
}

func TestSureOfSamplesThatAgree(t *testing.T) {
	for _, tt := range []struct {
		spread float64
		sure   bool
	}{{0, true}, {11.9, true}, {12.1, false}} {
		f := newFeed()
		for i := range 200 {
			f.run(1, float64(i%2)*2*tt.spread)
		}
		assert.InDelta(t, tt.spread, f.Status().SpreadMS, 1e-6)
		assert.Equal(t, tt.sure, f.Status().Sure, "%v ms", tt.spread)
	}
}

// A second's samples have to be of one line.
func TestSureOfOneLine(t *testing.T) {
	f := newFeed()
	f.run(1, 0)
	for f.now < 20_000 { // a slow page: few samples, long past the two seconds
		f.now += 300
		f.one(0)
		n := (f.now - 2000 - apart) / 300
		assert.Equal(t, n >= 19, f.Status().Sure, "after %v samples", n+1)
	}
}

// The times in which nothing is judged.
func TestDoubt(t *testing.T) {
	f := newFeed()
	f.Extra(12)
	f.run(60, 0)

	f.Disturb(f.now)
	// A change is told up to a second late, and a device may lose sound for a
	// second and a half after it.
	want := []clock.Span{{From: f.now - 1000, To: f.now + 1500}}
	assert.Equal(t, want, f.Doubtful())

	f.run(60, 0)
	f.run(8, 20) // noticed with the eighth sample, which is within the second
	want = append(want, clock.Span{From: f.now - 1000, To: f.now + 60})
	assert.Equal(t, want, f.Doubtful())
	f.offset += 20

	f.run(60, 0)
	f.State(f.now, false)
	f.State(f.now+3000, true)
	want = append(want, clock.Span{From: f.now - 1000, To: f.now + 3000 + 1500})
	assert.Equal(t, want, f.Doubtful())
	assert.Equal(t, 3, f.Jumps(), "all three are told to the round")

	f.State(f.now+5000, false)
	f.State(f.now+6000, true)
	assert.Equal(t, want, f.Doubtful(), "nothing sounded: nothing is doubtful")
	assert.Equal(t, 3, f.Jumps())
}

// A hole's place is known from its frames: it ended where the mark stands, as
// heard, and each hole has its own length.
func TestDoubtOfAGap(t *testing.T) {
	f := newFeed()
	f.Extra(12)
	f.run(60, 0)
	f.gap += 480 // 10 ms
	f.now += 5
	f.mark((f.now - f.offset) / 1000 * rate)
	first := clock.Span{From: f.now + 12 - 10 - 60, To: f.now + 12 + 60}
	f.run(20, 0)
	f.gap += 1920 // 40 ms
	f.now += 5
	f.mark((f.now - f.offset) / 1000 * rate)
	second := clock.Span{From: f.now + 12 - 40 - 60, To: f.now + 12 + 60}
	assert.Equal(t, 2, f.Gaps())
	require.Len(t, f.Doubtful(), 2)
	for i, want := range []clock.Span{first, second} {
		assert.InDelta(t, want.From, f.Doubtful()[i].From, 1e-6)
		assert.InDelta(t, want.To, f.Doubtful()[i].To, 1e-6)
	}

	c := clock.New(rate) // before any sample the time of the message must do
	c.Mark(clock.Mark{Context: 4800, Played: 4800}, 500)
	c.Mark(clock.Mark{Context: 9600, Played: 9120, Gap: 480}, 600)
	assert.Equal(t, []clock.Span{{From: 600 - 10 - 60, To: 660}}, c.Doubtful())
}

// What the audio thread counts while the context is stopped is neither a hole
// in our sound nor a sign that it runs.
func TestStopped(t *testing.T) {
	f := newFeed()
	f.run(60, 0)
	f.State(f.now, false)
	f.State(f.now+2000, true)
	f.now += 2000
	f.offset += 2000
	f.gap += 4800
	f.mark((f.now - f.offset) / 1000 * rate)
	assert.Zero(t, f.Gaps(), "silence of the pause")
	assert.False(t, f.Status().Ready, "one mark does not move")
	f.run(1, 0)
	assert.True(t, f.Status().Ready)
}

// The device runs, but none of our frames has been played yet.
func TestReadyWhenOursMove(t *testing.T) {
	for _, tt := range []struct {
		name            string
		context, played float64 // moved between two marks
		ready           bool
	}{
		{"nothing moves", 0, 0, false},
		{"the device plays silence", 4096, 0, false},
		{"a mark from before a restart", -4096, 4096, false},
		{"ours move", 4096, 4096, true},
	} {
		c := clock.New(rate)
		c.Mark(clock.Mark{Context: 9600, Played: 100}, 500)
		c.Mark(clock.Mark{Context: 9600 + tt.context, Played: 100 + tt.played}, 600)
		assert.Equal(t, tt.ready, c.Status().Ready, tt.name)
	}
}

// In a hole the last frame before it stands; then the next one follows.
func TestFrameStandsInAGap(t *testing.T) {
	f := newFeed()
	f.run(60, 0)
	last := (f.now-f.offset)/1000*rate - 9600
	before := f.now
	f.gap += 9600 // 200 ms
	f.now += 250
	f.one(0)
	f.run(20, 0)
	for _, tt := range []struct{ ms, frame float64 }{
		{before - 100, last - 4800},
		{before, last},
		{before + 50, last + 2400},  // where the next mark's frame was reached
		{before + 100, last + 2400}, // and stands
		{before + 249, last + 2400},
		{before + 250, last + 2400},
		{before + 300, last + 4800},
	} {
		frame, ok := f.FrameAt(tt.ms)
		require.True(t, ok)
		assert.InDelta(t, tt.frame, frame, 1e-3, fmt.Sprintf("%v ms after the hole began", tt.ms-before))
	}
}
