package synth

import "math"

// viennese is an early fortepiano's small leather hammer on thin strings in
// pairs, as about 1790: bright, quick to speak, shorter of breath than a
// modern piano. Figures are estimates from memory, set by spectrogram.
var viennese = hammer{
	place: 1.0 / 9.3, stiff: 6e-5, t60: 6.5, fall: 22,
	soft: 1150, touch: 1.5, slope: 2.2, spread: 0.5, first: 115, loss: 0.9e-7, after: 0.2,
}

func buildFortepiano(v *voice, s stroke) {
	struck(v, s, viennese)
	v.scale(0.100 * touchLevel(s.strength))
	knock(v, 0.014*touchLevel(s.strength))
	v.rise = int(v.rate * 0.0009)
	v.noise[0].strike(burst{level: 0.006 * s.strength, hz: 900, breadth: 1200, t60: 0.03}, v.rate)
	v.damp = damping{
		seconds: 0.20 * math.Exp2(-float64(s.key-60)/36), bright: 1200,
		noise: burst{level: 0.0025, hz: 420, breadth: 500, t60: 0.05},
	}
}
