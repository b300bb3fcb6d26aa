package synth

import "math"

// pipe is one partial of a rank: its multiple of the key's frequency, its
// level, and how soon it speaks compared with the fundamental.
type pipe struct{ multiple, level, speech float64 }

// chamber is a chamber organ's stopped flute at eight feet, strong in odd
// partials, with a principal at four and a fifteenth at two, which lets quick
// notes speak. Levels are estimates from memory, set by spectrogram; the organs
// that are recorded are churches', with whose choruses it is compared.
var chamber = [...]pipe{
	{1, 1, 1}, {2, 0.10, 0.6}, {3, 0.26, 0.5}, {4, 0.03, 0.5}, {5, 0.08, 0.4}, {7, 0.02, 0.4},
	{2, 0.50, 0.8}, {4, 0.24, 0.6}, {6, 0.12, 0.5}, {8, 0.06, 0.4}, {10, 0.03, 0.4},
	{4, 0.28, 0.6}, {8, 0.12, 0.4}, {12, 0.05, 0.4}, {16, 0.03, 0.4},
}

// rankCents is how far the second and third rank are from the first, for life.
var rankCents = [...]float64{0, 0.3, -0.2}

// rankOf is the rank of a pipe by its place in chamber.
func rankOf(i int) int {
	switch {
	case i < 6:
		return 0
	case i < 11:
		return 1
	}
	return 2
}

func buildOrgan(v *voice, s stroke) {
	speech := 0.26 * math.Exp2(-float64(s.key-60)/30) // seconds to full sound
	for i, p := range chamber {
		hz := p.multiple * s.hz
		hz *= math.Exp2(rankCents[rankOf(i)] / 1200)
		level := p.level * math.Exp(-hz/6500)
		// Wind takes time to move the air: what is missing at first is the
		// same sinusoid, dying away.
		v.add(hz, level, 0, 0)
		v.add(hz, -level, speech*p.speech, 0)
	}
	// A little less below, where chords stand that nothing lets die away.
	v.scale(0.085 * math.Exp2(float64(s.key-64)/48))
	v.noise[0].strike(burst{level: 0.013, hz: min(4*s.hz, 5000), breadth: 2500, t60: 0.09}, v.rate)
	v.damp = damping{seconds: 0.26 * math.Exp2(-float64(s.key-60)/80), bright: 4000}
}
