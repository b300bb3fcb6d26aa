package synth

import "math"

// hammer describes struck strings.
type hammer struct {
	place  float64 // of the stroke, as a share of the length
	stiff  float64 // inharmonicity of c'
	t60    float64 // seconds of C, key 36
	fall   float64 // semitones in which t60 halves
	soft   float64 // Hz above which the hammer's softness tells, at c' and plain
	touch  float64 // octaves that rises per unit of strength
	slope  float64 // how steeply the sound falls above it
	spread float64 // cents between the strings
	first  float64 // Hz of the soundboard's first resonances
	loss   float64 // growing with frequency squared
	after  float64 // share of the slow, second part of the decay
}

// struck adds the modes of a hammered note. Strings a hair apart first move
// together and die fast, then against each other and die slowly: each of the
// lower partials is a loud short mode and a fainter long one, which beat.
func struck(v *voice, s stroke, h hammer) {
	t60 := h.t60 * math.Exp2(-float64(s.key-36)/h.fall)
	loss := math.Ln10 * 3 / t60
	stiff := h.stiff * stiffness(s.key)
	soft := h.soft * math.Exp2(float64(s.key-60)/30+h.touch*(s.strength-0.6))
	low, high := strayed(s.hz, -h.spread/2)/s.hz, strayed(s.hz, h.spread/2)/s.hz
	for n := 1.0; n <= 100; n++ {
		hz := partialHz(s.hz, n, stiff)
		if hz > 10000 {
			break
		}
		amp := math.Sin(n*math.Pi*h.place) * radiated(hz, h.first)
		amp /= 1 + math.Pow(hz/soft, h.slope)
		decay := math.Ln10 * 3 / (loss + h.loss*hz*hz)
		phase := bridgePhase(hz)
		if n > 20 {
			v.add(hz, amp, decay*0.7, phase)
			continue
		}
		v.add(hz*low, amp*(1-h.after), decay*0.6, phase)
		v.add(hz*high, amp*h.after, decay*1.8, phase)
	}
}

// stiffness is how inharmonicity runs over the keyboard, 1 at c': it doubles
// with every eight keys upwards, and rises again in the wound bass strings
// (from memory).
func stiffness(key int) float64 {
	return math.Exp2(float64(key-60)/8) + 0.25*math.Exp2(float64(40-key)/9)
}

// touchLevel turns strength into loudness: 1 at plain 0.6, 2 dB for every
// tenth.
func touchLevel(strength float64) float64 { return decibels(20 * (strength - 0.6)) }
