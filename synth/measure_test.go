package synth_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/synth"
	"agremens/synth/tuning"
)

// phase is the phase of x's content near hz, seen through a smooth window of
// so many frames from a frame on.
func phase(x []float64, from, frames int, hz float64) (angle, level float64) {
	var sum complex128
	weight := 0.0
	turn := cmplx.Rect(1, -2*math.Pi*hz/rate)
	at := cmplx.Rect(1, -2*math.Pi*hz*float64(from)/rate)
	for i := range frames {
		// Blackman-Harris: neighbours four bins away are 92 dB down.
		c := math.Cos(2 * math.Pi * float64(i) / float64(frames))
		w := 0.35875 - 0.48829*c + 0.14128*(2*c*c-1) - 0.01168*(4*c*c*c-3*c)
		sum += complex(w*x[from+i], 0) * at
		weight += w
		at *= turn
	}
	return cmplx.Phase(sum), 2 * cmplx.Abs(sum) / weight
}

// cents measures how far the fundamental is from hz, by how its phase moves
// between windows, first close together, then half a second apart. It shares
// nothing with the way the sound is made. The stroke's own noises are over by
// then.
func cents(x []float64, hz float64) float64 {
	const frames, from = rate / 2, 3 * rate / 10
	first, _ := phase(x, from, frames, hz)
	off := 0.0 // Hz
	for _, apart := range []int{rate / 50, rate / 10, rate / 2} {
		next, _ := phase(x, from+apart, frames, hz)
		turn := 2 * math.Pi * float64(apart) / rate
		off += math.Remainder(next-first-off*turn, 2*math.Pi) / turn
	}
	return 1200 * math.Log2(1+off/hz)
}

// held renders so many seconds of one key held, both sides together.
func held(inst synth.Instrument, t tuning.Tuning, key int, seconds float64) []float64 {
	n := int64(seconds * rate)
	e := synth.New(rate)
	if err := e.SetInstrument(inst); err != nil {
		panic(err)
	}
	e.SetTuning(t)
	e.Play(synth.Sequence{Notes: []synth.Note{{Start: 0, End: n, Key: key, Strength: 0.6}}, Length: n})
	stereo := make([]float32, 2*n)
	e.Render(stereo)
	x := make([]float64, n)
	for i := range x {
		x[i] = float64(stereo[2*i]+stereo[2*i+1]) / 2
	}
	return x
}

// The method itself, on sinusoids of known frequency with harmonics.
func TestCentsMeasured(t *testing.T) {
	for _, hz := range []float64{65.4, 440, 1396.9} {
		for _, off := range []float64{-3, 0, 0.2, 4} {
			x := make([]float64, 2*rate)
			f := hz * math.Exp2(off/1200)
			for i := range x {
				for n := 1.0; n < 6; n++ {
					x[i] += math.Sin(2*math.Pi*f*n*float64(i)/rate) / n
				}
			}
			assert.InDelta(t, off, cents(x, hz), 0.02)
		}
	}
}

// compass is each instrument's usual one: five octaves, seven for the piano,
// four and a half for the organ.
func compass(i synth.Instrument) (from, to int) {
	switch i {
	case "piano":
		return 28, 100
	case "organ":
		return 36, 89
	}
	return 29, 89
}

func TestPitchOfEveryKey(t *testing.T) {
	vallotti, _ := tuning.Named("vallotti")
	meantone, _ := tuning.Named("meantone")
	for _, inst := range synth.Instruments() {
		if inst.Key == "click" {
			continue
		}
		for i, tuned := range []tuning.Tuning{{}, vallotti.At(415), meantone.At(466)} {
			step := 1 + 6*min(i, 1) // every key in equal, every seventh elsewhere: all twelve classes
			from, to := compass(inst.Key)
			for key := from; key <= to; key += step {
				hz := tuned.Hz(key, 0)
				assert.InDelta(t, 0, cents(held(inst.Key, tuned, key, 1.4), hz), 0.5, "%s, key %d, %s", inst.Key, key, tuned.Name)
			}
		}
	}
}

// TestTable prints what the instruments measure over two octaves (and their
// Cs below) and holds it within limits. Run with -v to see it.
func TestTable(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	t.Logf("%-18s %4s %8s %7s %7s %9s %7s %7s %7s %9s", "instrument", "key", "cents", "peak", "crest", "DC dB", "step", "edge", "T60 s", "damped s")
	for _, inst := range synth.Instruments() {
		if inst.Key == "click" {
			continue
		}
		worst := 0.0
		for key := 36; key <= 84; key++ {
			if (key < 60 || testing.Short()) && key%12 != 0 {
				continue
			}
			x := held(inst.Key, tuning.Tuning{}, key, 3)
			hz := tuning.Tuning{}.Hz(key, 0)
			m := measure(x)
			m.edge = edge(struckAndLeft(inst.Key, key, 0.7))
			decay := math.Inf(1)
			_, early := phase(x, rate/10, rate/4, hz)
			if _, late := phase(x, rate, rate/4, hz); late < early*0.98 {
				decay = -60 / (20 * math.Log10(late/early)) * 0.9
			}
			off, damped := cents(x, hz), dampedIn(struckAndLeft(inst.Key, key, 0.7), 0.7)
			worst = max(worst, math.Abs(off))
			if key%4 == 0 {
				t.Logf("%-18s %4d %8.3f %7.3f %7.2f %9.1f %7.3f %7.2f %7.2f %9.3f", inst.Key, key, off, m.peak, m.crest, m.dc, m.step, m.edge, decay, damped)
			}
			name := fmt.Sprint(inst.Key, key)
			assert.Less(t, m.peak, 0.5, "%s: one note leaves room for others", name)
			assert.Greater(t, m.peak, 0.02, "%s: it can be heard", name)
			assert.Less(t, m.dc, -60.0, "%s: no offset, dB below the sound", name)
			assert.Less(t, m.step, 1.5, "%s: it does not begin with a step", name)
			assert.Less(t, m.edge, 2.0, "%s: no click anywhere in it", name)
			assert.Less(t, damped, 0.5, "%s: it stops when let go", name)
			if inst.Key == "organ" {
				assert.Greater(t, decay, 40.0, "%s: a pipe sustains", name)
			} else {
				assert.Greater(t, decay, 0.8, name)
				assert.Less(t, decay, 25.0, name)
			}
		}
		t.Logf("%-18s largest pitch error %.3f cents", inst.Key, worst)
	}
}

// struckAndLeft renders a key held for so many seconds and the second after.
func struckAndLeft(inst synth.Instrument, key int, seconds float64) []float64 {
	stereo := synth.RenderSequence(rate, inst, tuning.Tuning{}, synth.Sequence{
		Notes:  []synth.Note{{Start: rate / 10, End: rate/10 + int64(seconds*rate), Key: key, Strength: 0.6}},
		Length: rate/10 + int64((seconds+1)*rate),
	})
	x := make([]float64, rate/10+int((seconds+1)*rate))
	for i := range x {
		x[i] = float64(stereo[2*i]+stereo[2*i+1]) / 2
	}
	return x
}

// dampedIn is how many seconds after the key came up, so many seconds in, the
// sound has fallen by 30 dB. Room and case ring a little longer than strings.
func dampedIn(x []float64, seconds float64) float64 {
	up := rate/10 + int(seconds*rate)
	level := func(at int) float64 {
		sum := 0.0
		for _, s := range x[at : at+rate/50] {
			sum += s * s
		}
		return math.Sqrt(sum)
	}
	before := level(up - rate/40)
	for at := up; at < len(x)-rate/50; at += rate / 200 {
		if level(at) < before/31.6 {
			return float64(at-up) / rate
		}
	}
	return math.Inf(1)
}

// edge is the largest step between two samples within a millisecond, held
// against the larger of the largest steps in the twenty milliseconds before and
// after: a click stands out from both.
func edge(x []float64) (worst float64) {
	const hop, wide = rate / 1000, 20 // wider than the lowest key's period
	var steps []float64
	for at := 0; at+hop < len(x); at += hop {
		d := 0.0
		for i := at; i < at+hop; i++ {
			d = max(d, math.Abs(x[i+1]-x[i]))
		}
		steps = append(steps, d)
	}
	for i := wide; i+wide < len(steps); i++ {
		before, after := 0.0, 0.0
		for k := 2; k <= wide; k++ {
			before, after = max(before, steps[i-k]), max(after, steps[i+k])
		}
		if steps[i] > 1e-4 {
			worst = max(worst, steps[i]/max(before, after))
		}
	}
	return worst
}

// The measure itself: a smooth note has none, one with a click has.
func TestEdge(t *testing.T) {
	x := make([]float64, rate)
	for i := range x {
		x[i] = 0.2 * math.Sin(2*math.Pi*440*float64(i)/rate) * math.Exp(-3*float64(i)/rate)
	}
	assert.Less(t, edge(x), 1.3)
	for i := rate / 2; i < rate; i++ {
		x[i] += 0.02
	}
	assert.Greater(t, edge(x), 2.0)
}

type measured struct{ peak, crest, dc, step, edge float64 }

// measure looks at three seconds of a held note. dc is the mean of the later
// two, in dB below their level. step is the largest jump between two samples
// within the first millisecond, as a share of the largest in the next fifty:
// much above 1 the note would begin with a click that is not its own.
func measure(x []float64) (m measured) {
	x = x[:3*rate]
	square, later := 0.0, 0.0
	for i, s := range x {
		m.peak = max(m.peak, math.Abs(s))
		square += s * s
		if i > 0 && i < rate/20 {
			if d := math.Abs(s - x[i-1]); i < rate/1000 {
				m.step = max(m.step, d)
			} else {
				later = max(later, d)
			}
		}
	}
	m.crest = m.peak / math.Sqrt(square/float64(len(x)))
	m.step /= later
	mean, level := 0.0, 0.0
	for i, s := range x[rate:] {
		w := 1 - math.Cos(2*math.Pi*float64(i)/(2*rate))
		mean += s * w
		level += s * s
	}
	m.dc = 20 * math.Log10(math.Abs(mean)/(2*rate)/math.Sqrt(level/(2*rate))+1e-12)
	return m
}
