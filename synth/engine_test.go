package synth_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/synth"
	"agremens/synth/tuning"
)

const rate = 48000

func engine(t testing.TB, inst synth.Instrument) *synth.Engine {
	e := synth.New(rate)
	require.NoError(t, e.SetInstrument(inst))
	return e
}

// frames renders n frames in chunks of odd sizes and returns the left side.
func frames(e *synth.Engine, n int) []float32 {
	var left []float32
	sizes := []int{1, 63, 64, 65, 500, 4096}
	for i := 0; len(left) < n; i++ {
		buf := make([]float32, 2*min(sizes[i%len(sizes)], n-len(left)))
		e.Render(buf)
		for j := 0; j < len(buf); j += 2 {
			left = append(left, buf[j])
		}
	}
	return left
}

// onsets returns the frames at which a sound begins after silence.
func onsets(x []float32) []int64 {
	var out []int64
	quiet := 1000
	for i, s := range x {
		if s == 0 {
			quiet++
			continue
		}
		if quiet >= 1000 {
			out = append(out, int64(i))
		}
		quiet = 0
	}
	return out
}

func TestClickStandsOnItsFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := synth.New(rate)
		_ = e.SetInstrument("click")
		lead := rapid.IntRange(0, 5000).Draw(t, "lead")
		frames(e, lead)
		var seq synth.Sequence
		var want []int64
		at := int64(0)
		for range rapid.IntRange(1, 8).Draw(t, "notes") {
			at += int64(rapid.IntRange(2500, 9000).Draw(t, "step"))
			seq.Notes = append(seq.Notes, synth.Note{Start: at, End: at + 2000, Key: 60, Strength: 0.6})
			if rapid.Bool().Draw(t, "chord") {
				seq.Notes = append(seq.Notes, synth.Note{Start: at, End: at + 700, Key: 64, Strength: 0.6})
			}
			want = append(want, int64(lead)+at)
		}
		start := e.Play(seq)
		assert.Equal(t, int64(lead), start)
		x := frames(e, int(at)+4000)
		var got []int64
		for _, o := range onsets(x) {
			got = append(got, int64(lead)+o)
		}
		assert.Equal(t, want, got)
		assert.InDelta(t, 0.75, x[want[0]-int64(lead)], 1e-6, "full from its first sample, one for a chord")
	})
}

func TestLoopWithoutGap(t *testing.T) {
	e := engine(t, "click")
	e.Play(synth.Sequence{
		Notes:  []synth.Note{{Start: 1000, End: 1500, Key: 60}, {Start: 5000, End: 6000, Key: 60}, {Start: 9000, End: 9500, Key: 60}},
		Clicks: nil, Length: 9000, Loop: true, LoopStart: 3000,
	})
	// The first note is the count-in's; the third stands at the end: not played.
	assert.Equal(t, []int64{1000, 5000, 11000, 17000, 23000}, onsets(frames(e, 28000)))
}

func TestBeatClicks(t *testing.T) {
	e := engine(t, "harpsichord")
	var peak [3]float64
	for kind := range peak {
		e.Play(synth.Sequence{Clicks: []synth.Click{{At: 10, Kind: synth.ClickKind(kind)}}})
		for _, s := range frames(e, 10000) {
			peak[kind] = max(peak[kind], math.Abs(float64(s)))
		}
	}
	assert.Greater(t, peak[synth.Strong], 1.2*peak[synth.Beat])
	assert.Greater(t, peak[synth.Beat], 1.2*peak[synth.Sub])
	assert.Less(t, peak[synth.Strong], 0.5, "never as loud as the rhythm's click")
}

func TestReplace(t *testing.T) {
	click := func(at ...int64) (notes []synth.Note) {
		for _, a := range at {
			notes = append(notes, synth.Note{Start: a, End: a + 10, Key: 60})
		}
		return notes
	}
	slow := synth.Sequence{Notes: click(0, 10000, 20000), Length: 30000, Loop: true}
	fast := synth.Sequence{Notes: click(0, 5000, 10000), Length: 15000, Loop: true}
	t.Run("at the beat", func(t *testing.T) {
		e := engine(t, "click")
		e.Play(slow)
		frames(e, 12000)
		start := e.ReplaceFrom(fast, 20000, 10000)
		assert.Equal(t, int64(10000), start)
		got := onsets(frames(e, 24000))
		assert.Equal(t, []int64{8000, 13000, 18000, 23000}, got)
	})
	t.Run("frame 0 at the frame given", func(t *testing.T) {
		e := engine(t, "click")
		e.Play(slow)
		e.Replace(fast, 10000)
		assert.Equal(t, []int64{0, 10000, 15000, 20000, 25000}, onsets(frames(e, 29000)))
	})
	t.Run("late", func(t *testing.T) {
		e := engine(t, "click")
		e.Play(slow)
		frames(e, 12000)
		e.ReplaceFrom(fast, 10000, 5000)
		assert.Equal(t, []int64{3000, 8000}, onsets(frames(e, 12000)), "frames 10000 and 15000 of the new one's time")
	})
	t.Run("before its frame 0", func(t *testing.T) {
		e := engine(t, "click")
		e.Play(slow)
		shifted := synth.Sequence{Notes: click(-5000, 0, 5000), Length: 10000, Loop: true, LoopStart: -5000}
		e.Replace(shifted, 10000)
		assert.Equal(t, []int64{0, 10000, 15000, 20000, 25000, 30000}, onsets(frames(e, 34000)))
	})
}

func TestHeldNotesSurviveReplace(t *testing.T) {
	held := synth.Sequence{Notes: []synth.Note{{Start: 0, End: 40000, Key: 60, Strength: 0.6}}, Length: 40000}
	longer := synth.Sequence{Notes: []synth.Note{{Start: 0, End: 80000, Key: 60, Strength: 0.6}}, Length: 80000}
	without := synth.Sequence{Notes: []synth.Note{{Start: 30000, End: 80000, Key: 67, Strength: 0.6}}, Length: 80000}

	level := func(next synth.Sequence) (plain, got float64) {
		a, b := engine(t, "harpsichord"), engine(t, "harpsichord")
		a.Play(longer)
		b.Play(held)
		frames(a, 10000)
		frames(b, 10000)
		b.ReplaceFrom(next, 20000, 20000)
		return rms(frames(a, 50000)[44000:]), rms(frames(b, 50000)[44000:])
	}
	plain, got := level(longer)
	assert.InDelta(t, plain, got, plain*1e-6, "held to its new end")
	_, got = level(synth.Sequence{Length: 80000})
	assert.Less(t, got, plain/10, "let go when the new sequence does not hold it")
	plainOther, other := level(without)
	assert.Greater(t, other, plainOther/4, "what starts later starts")
}

func TestStop(t *testing.T) {
	for _, inst := range synth.Instruments() {
		e := engine(t, inst.Key)
		e.Play(synth.Sequence{Notes: []synth.Note{{Start: 0, End: rate * 10, Key: 48, Strength: 1}, {Start: rate, End: rate * 10, Key: 60, Strength: 1}},
			Clicks: []synth.Click{{At: rate / 2}}, Length: rate * 10, Loop: true})
		frames(e, rate/4)
		e.Stop()
		x := frames(e, 2*rate)
		assert.Less(t, rms(x[rate:]), 1e-4, inst.Key)
		for _, s := range x[rate+rate/2:] {
			require.Zero(t, s, "%s: silent for good", inst.Key)
		}
	}
}

// A key struck again, slowly or as fast as a finger can, is let go first, so
// that the two are heard apart.
func TestSameKeyAgain(t *testing.T) {
	for _, inst := range synth.Instruments() {
		if inst.Key == "click" {
			continue
		}
		for _, length := range []int{rate / 2, rate / 8} {
			e := engine(t, inst.Key)
			e.Play(synth.Sequence{Notes: []synth.Note{
				{Start: 0, End: int64(length), Key: 60, Strength: 0.6},
				{Start: int64(length), End: int64(2 * length), Key: 60, Strength: 0.6},
			}, Length: int64(2 * length)})
			x := frames(e, 2*length)
			before := rms(x[length-rate/15 : length-rate/20])
			lifted := rms(x[length-rate/200 : length])
			after := rms(x[length+rate/100 : length+rate/25])
			assert.Less(t, lifted, 0.6*before, "%s, %d frames: let go before", inst.Key, length)
			assert.Greater(t, after, 1.5*lifted, "%s, %d frames: struck anew", inst.Key, length)
		}
	}
}

// As loud as it ever gets: every key of five octaves at once, and both hands'
// ten fingers again and again.
func TestNoClippingAtAnyPolyphony(t *testing.T) {
	for _, inst := range synth.Instruments() {
		var all, hands synth.Sequence
		for key := 29; key <= 89; key++ {
			all.Notes = append(all.Notes, synth.Note{Start: 100, End: rate, Key: key, Strength: 1})
		}
		for at := int64(0); at < 2*rate; at += rate / 4 {
			for _, key := range []int{36, 40, 43, 48, 52, 60, 64, 67, 72, 76} {
				hands.Notes = append(hands.Notes, synth.Note{Start: at, End: at + rate/4, Key: key, Strength: 1})
			}
		}
		all.Length, hands.Length = rate, 2*rate
		for name, seq := range map[string]synth.Sequence{"all": all, "hands": hands} {
			bent, peak := 0, 0.0
			samples := synth.RenderSequence(rate, inst.Key, tuning.Tuning{}, seq)
			for _, s := range samples {
				v := math.Abs(float64(s))
				peak = max(peak, v)
				if v > 0.81 { // above the knee
					bent++
				}
			}
			assert.Less(t, peak, 0.999, "%s, %s", inst.Key, name)
			assert.Less(t, float64(bent)/float64(len(samples)), 0.001, "%s, %s: hardly a sample is bent", inst.Key, name)
		}
	}
}

func TestLeaning(t *testing.T) {
	seq := func(strength float32) synth.Sequence {
		return synth.Sequence{Notes: []synth.Note{
			{Start: 0, End: rate / 2, Key: 74, Strength: strength},
			{Start: rate / 2, End: rate, Key: 72, Strength: 0.5},
		}, Length: rate}
	}
	for _, inst := range synth.Instruments() {
		plain := synth.RenderSequence(rate, inst.Key, tuning.Tuning{}, seq(0.6))
		leant := synth.RenderSequence(rate, inst.Key, tuning.Tuning{}, seq(0.8))
		loud := func(x []float32) float64 { return rms(x[:rate]) }
		over := func(x []float32) float64 { // the first note, 30 to 80 ms into the second
			y := make([]float64, rate)
			for i := range y {
				y[i] = float64(x[2*i])
			}
			_, level := phase(y, rate/2+rate*3/100, rate/20, tuning.Tuning{}.Hz(74, 0))
			return level
		}
		switch {
		case inst.Key == "click":
			assert.Equal(t, plain, leant)
		case inst.Touch:
			assert.Greater(t, loud(leant), 1.3*loud(plain), "%s leans by loudness", inst.Key)
		default:
			assert.InDelta(t, loud(plain), loud(leant), 1e-9, inst.Key)
			assert.Greater(t, over(leant), 2*over(plain), "%s leans by length", inst.Key)
		}
	}
}

// Taking over, changing the instrument and stopping make no click: no step
// between samples is larger than the music's own.
func TestNoClickOnChange(t *testing.T) {
	for _, inst := range synth.Instruments() {
		if inst.Key == "click" {
			continue
		}
		largest := func(x []float32) (d float64) {
			for i := 1; i < len(x); i++ {
				d = max(d, math.Abs(float64(x[i]-x[i-1])))
			}
			return d
		}
		e := engine(t, inst.Key)
		e.Play(synth.Sequence{Notes: []synth.Note{
			{Start: 0, End: 10 * rate, Key: 48, Strength: 0.6}, {Start: 0, End: 10 * rate, Key: 64, Strength: 0.6},
		}, Length: 10 * rate})
		frames(e, rate)
		before := largest(frames(e, rate/2))
		e.Replace(synth.Sequence{Length: rate}, e.Rendered()+1000)
		assert.LessOrEqual(t, largest(frames(e, 4000)), 1.6*before+0.004, "%s, taken over", inst.Key)

		e.Play(synth.Sequence{Notes: []synth.Note{{Start: 0, End: 10 * rate, Key: 50, Strength: 0.6}}, Length: 10 * rate})
		frames(e, rate)
		before = largest(frames(e, rate/2))
		require.NoError(t, e.SetInstrument("organ"))
		assert.LessOrEqual(t, largest(frames(e, 4000)), 1.1*before+0.0005, "%s, instrument", inst.Key)
		e.Stop()
		assert.LessOrEqual(t, largest(frames(e, 4000)), 1.6*before+0.004, "%s, stopped", inst.Key)
	}
}

func TestInstrumentAtTheNextBeat(t *testing.T) {
	e := engine(t, "click")
	e.Play(synth.Sequence{Notes: []synth.Note{
		{Start: 1000, End: 1500, Key: 60}, {Start: 9000, End: 9500, Key: 60}, {Start: 17000, End: 25000, Key: 60, Strength: 0.6},
	}, Length: 30000})
	require.NoError(t, e.SetInstrumentAt("organ", 17000))
	x := frames(e, 30000)
	assert.InDelta(t, 0.75, x[1000], 1e-6)
	assert.InDelta(t, 0.75, x[9000], 1e-6)
	assert.Less(t, x[17000], float32(0.1))
	assert.Greater(t, rms(x[20000:24000]), 0.005, "a pipe, not a click")
}

func TestUnknownInstrument(t *testing.T) {
	assert.Error(t, synth.New(rate).SetInstrument("kazoo"))
}

func TestRenderAllocatesNothing(t *testing.T) {
	for _, inst := range synth.Instruments() {
		e := engine(t, inst.Key)
		e.Play(dense(rate * 4))
		buf := make([]float32, 2*4096)
		assert.Zero(t, testing.AllocsPerRun(50, func() { e.Render(buf) }), inst.Key)
	}
}

func TestNoClippingAndNoNaN(t *testing.T) {
	for _, inst := range synth.Instruments() {
		for _, strength := range []float32{0, 0.6, 1} {
			seq := dense(rate / 2)
			for i := range seq.Notes {
				seq.Notes[i].Strength = strength
			}
			peak := 0.0
			for _, s := range synth.RenderSequence(rate, inst.Key, tuning.Tuning{}, seq) {
				peak = max(peak, math.Abs(float64(s))) // a NaN stays
			}
			assert.Greater(t, peak, 0.02, inst.Key)
			assert.Less(t, peak, 1.0, inst.Key)
		}
	}
}

// dense is a trill of 14 notes a second over chords of eight notes, repeated
// each half second.
func dense(length int64) synth.Sequence {
	seq := synth.Sequence{Length: length, Loop: true}
	step := int64(rate / 14)
	for i := int64(0); i*step < length; i++ {
		seq.Notes = append(seq.Notes, synth.Note{Start: i * step, End: (i + 1) * step, Key: 76 + int(i%2)*2, Strength: 0.7})
	}
	for at := int64(0); at < length; at += rate / 2 {
		for _, key := range []int{36, 43, 48, 52, 55, 60, 64, 67} {
			seq.Notes = append(seq.Notes, synth.Note{Start: at, End: at + rate/2, Key: key, Strength: 0.7})
		}
		seq.Clicks = append(seq.Clicks, synth.Click{At: at})
	}
	return seq
}

func rms(x []float32) float64 {
	sum := 0.0
	for _, s := range x {
		sum += float64(s) * float64(s)
	}
	return math.Sqrt(sum / float64(len(x)))
}

func TestTuningAtTheNextBeat(t *testing.T) {
	play := func(retuned float64) []float64 {
		e := engine(t, "organ")
		e.Play(synth.Sequence{Notes: []synth.Note{
			{Start: 0, End: 3 * rate, Key: 69, Strength: 0.6}, {Start: 3 * rate, End: 6 * rate, Key: 69, Strength: 0.6},
		}, Length: 6 * rate})
		frames(e, rate)
		e.SetTuningAt(tuning.Tuning{A: retuned}, 3*rate)
		left := frames(e, 5*rate)
		x := make([]float64, len(left))
		for i := range left {
			x[i] = float64(left[i])
		}
		return x
	}
	step := func(x []float64) (largest float64) {
		for i := 1; i < len(x); i++ {
			largest = max(largest, math.Abs(x[i]-x[i-1]))
		}
		return largest
	}
	x := play(415)
	assert.InDelta(t, 0, cents(x[:2*rate], 440), 0.5, "what sounds keeps its pitch")
	assert.InDelta(t, 0, cents(x[2*rate:], 415), 0.5, "what is struck at the beat has the new one")
	assert.Less(t, step(x), 1.1*step(play(440)), "no more of a step than the same key struck again")
}
