package synth

import "math"

// pipe is one partial of a rank: its multiple of the key's frequency, its
// level, and how soon it speaks compared with the fundamental.
type pipe struct{ multiple, level, speech float64 }

// chamber is a chamber organ's stopped flute at eight feet, strong in odd
// partials, with a gentle principal at four. Levels are estimates from
// memory, set by spectrogram.
var chamber = [...]pipe{
	{1, 1, 1}, {2, 0.10, 0.6}, {3, 0.26, 0.5}, {4, 0.03, 0.5}, {5, 0.08, 0.4}, {7, 0.02, 0.4},
	{2, 0.34, 0.8}, {4, 0.16, 0.6}, {6, 0.08, 0.5}, {8, 0.045, 0.4}, {10, 0.02, 0.4},
}

// fourFootCents is how far the second rank is from the first, for life.
const fourFootCents = 0.3

func buildOrgan(v *voice, s stroke) {
	speech := 0.16 * math.Exp2(-float64(s.key-60)/30) // seconds to full sound
	for i, p := range chamber {
		hz := p.multiple * s.hz
		if i >= 6 {
			hz *= math.Exp2(fourFootCents / 1200)
		}
		level := p.level * math.Exp(-hz/6500)
		// Wind takes time to move the air: what is missing at first is the
		// same sinusoid, dying away.
		v.add(hz, level, 0, 0)
		v.add(hz, -level, speech*p.speech, 0)
	}
	v.scale(0.085)
	v.noise[0].strike(burst{level: 0.006, hz: min(3*s.hz, 5000), breadth: 500, t60: 0.07}, v.rate)
	v.damp = damping{seconds: 0.13 * math.Exp2(-float64(s.key-60)/40), bright: 2500}
}
