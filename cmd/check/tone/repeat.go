package tone

import (
	"math"

	"agremens/synth"
)

// Again is how a key speaks that is struck twice.
type Again struct {
	Dip   float64 // dB from the first stroke's peak to the lowest before the second
	Speak float64 // ms from the second stroke to 6 dB below the first one's peak
	Damp  float64 // seconds for the released note to fall by 30 dB
}

// upShare is when the key comes up between two strokes, as a share of their
// distance: two thirds, as the program lets it.
const upShare = 2.0 / 3

// again measures sound in which a key is struck at 0.1 s and so many seconds
// later, and let go for good as long after that. delay is how late the sound
// comes, in seconds.
func again(x []float64, delay, apart float64) Again {
	const hop = Rate / 1000
	env := smooth(levels(x, hop), 4)
	at := func(seconds float64) int { return min(int((seconds+delay)*1000), len(env)-1) }
	peak := func(from, to int) float64 {
		top := 0.0
		for _, e := range env[from:to] {
			top = max(top, e)
		}
		return top
	}
	first := peak(at(0.1), at(0.1+apart))
	low := math.Inf(1)
	for _, e := range env[at(0.1+apart*0.4) : at(0.1+apart)+6] {
		low = min(low, e)
	}
	a := Again{Dip: 20 * math.Log10(first/low), Speak: math.NaN()}
	for i := at(0.1 + apart); i < len(env); i++ {
		if env[i] > first/2 {
			a.Speak = float64(i - at(0.1+apart))
			break
		}
	}
	up := at(0.1 + apart + apart*upShare)
	level := env[max(0, up-2)]
	for i := up; i < len(env); i++ {
		if env[i] < level/31.6 {
			a.Damp = float64(i-up) / 1000
			break
		}
	}
	return a
}

// smooth is the root of the mean square of n values and those before.
func smooth(env []float64, n int) []float64 {
	out := make([]float64, len(env))
	for i := range env {
		sum, count := 0.0, 0.0
		for k := max(0, i-n+1); k <= i; k++ {
			sum += env[k] * env[k]
			count++
		}
		out[i] = math.Sqrt(sum / count)
	}
	return out
}

// OursAgain strikes a key of ours twice.
func OursAgain(instrument string, key int, perSecond float64) Again {
	apart := 1 / perSecond
	frame := func(s float64) int64 { return int64(s * Rate) }
	x := sounded(instrument, synth.Sequence{Notes: []synth.Note{
		{Start: frame(0.1), End: frame(0.1 + apart*upShare), Key: key, Strength: 0.6},
		{Start: frame(0.1 + apart), End: frame(0.1 + apart + apart*upShare), Key: key, Strength: 0.6},
	}, Length: frame(1.5)})
	return again(x, 0, apart)
}

// TheirsAgain lets a soundfont strike a key twice.
func (b Bank) TheirsAgain(s Source, key int, perSecond float64) (Again, error) {
	apart := 1 / perSecond
	x, err := b.Played(s, []Struck{
		{key, velocity(0.6), 0.1, 0.1 + apart*upShare},
		{key, velocity(0.6), 0.1 + apart, 0.1 + apart + apart*upShare},
	}, 2)
	if err != nil {
		return Again{}, err
	}
	return again(x, float64(attackAt(x))/Rate-0.1, apart), nil
}
