package synth

import "math"

// buildFortepiano strikes two strings with a small leather hammer, as in
// Viennese instruments about 1790: bright, quick to speak, shorter of breath
// than a modern piano. Figures are estimates from memory, set by ear and
// spectrogram.
func buildFortepiano(v *voice, s stroke) {
	struck(v, s, hammer{
		strings: 2, place: 1.0 / 9.3, stiff: 6e-5, t60: 6.5, fall: 22,
		soft: 1250, touch: 1.5, spread: 0.4, first: 120, hf: 0.9e-7,
	})
	v.scale(0.10 * touchLevel(s.strength))
	knock(v, 0.016*touchLevel(s.strength))
	v.rise = int(v.rate * 0.0009)
	v.noise[0].strike(burst{level: 0.010 * s.strength, hz: 900, breadth: 1200, t60: 0.03}, v.rate)
	v.damp = damping{
		seconds: 0.20 * math.Exp2(-float64(s.key-60)/36), bright: 1200,
		noise: burst{level: 0.003, hz: 420, breadth: 500, t60: 0.05},
	}
}

// touchLevel turns strength into loudness: 1 at plain 0.6, 18 dB from 0.2
// to 1.
func touchLevel(strength float64) float64 { return decibels(22.5 * (strength - 0.6)) }

// hammer describes struck strings.
type hammer struct {
	strings int
	place   float64 // of the stroke, as a share of the length
	stiff   float64 // inharmonicity of c'; doubles every octave up
	t60     float64 // seconds of c, key 36
	fall    float64 // semitones in which t60 halves
	soft    float64 // Hz above which the hammer's softness tells, c' at plain
	touch   float64 // octaves that rises per unit of strength
	spread  float64 // cents between the strings
	first   float64 // Hz of the soundboard's first resonances
	hf      float64 // loss growing with frequency squared
}

// struck adds the modes of a hammered note. Strings a hair apart first move
// together and die fast, then against each other and die slowly: each
// partial is a loud short mode and a faint long one.
func struck(v *voice, s stroke, h hammer) {
	t60 := h.t60 * math.Exp2(-float64(s.key-36)/h.fall)
	loss := math.Ln10 * 3 / t60
	stiff := h.stiff * math.Exp2(float64(s.key-60)/12)
	soft := h.soft * math.Exp2(float64(s.key-60)/30+h.touch*(s.strength-0.6))
	for n := 1.0; n <= 60; n++ {
		hz := n * s.hz * math.Sqrt((1+stiff*n*n)/(1+stiff))
		if hz > 12000 {
			break
		}
		amp := math.Sin(n*math.Pi*h.place) * radiated(hz, h.first)
		amp /= 1 + math.Pow(hz/soft, 2)
		decay := math.Ln10 * 3 / (loss + h.hf*hz*hz)
		together, apart := 0.8, 0.2
		if h.strings > 2 {
			together, apart = 0.72, 0.28
		}
		v.add(hz*math.Exp2(-h.spread*apart/1200), amp*together, decay*0.62, 0)
		v.add(hz*math.Exp2(h.spread*together/1200), amp*apart, decay*1.7, 0)
	}
}
