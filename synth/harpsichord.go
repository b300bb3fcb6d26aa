package synth

import "math"

// buildHarpsichord plucks two eight-foot strings. The quills do not know how
// fast the key came down, so strength is not asked.
//
// Figures without another source are estimates from memory, set by ear and
// spectrogram: decay times of harpsichord strings are a few seconds, longer
// in the bass; the plucking place moves from about a tenth of the string in
// the bass towards a third in the treble.
func buildHarpsichord(v *voice, s stroke) {
	place := 0.10 * math.Exp2(float64(s.key-36)/32)
	string8(v, s, quill{place: place, level: 1, cents: 0.35})
	string8(v, s, quill{place: place * 0.72, level: 0.62, cents: -0.35 / 0.62})
	v.scale(0.085)
	knock(v, 0.010)
	v.noise[0].strike(burst{level: 0.010, hz: 3200, breadth: 2500, t60: 0.012}, v.rate)
	v.damp = damping{
		seconds: 0.16 * math.Exp2(-float64(s.key-60)/40), bright: 1500,
		noise: burst{level: 0.008, hz: 1400, breadth: 1600, t60: 0.03},
	}
}

// quill is one register: where it plucks, as a share of the string's length,
// how loud, and how far its string is from the true pitch.
type quill struct {
	place, level, cents float64
}

func string8(v *voice, s stroke, q quill) {
	f0 := s.hz * math.Exp2(q.cents/1200)
	t60 := 8.5 * math.Exp2(-float64(s.key-36)/26)
	loss := math.Ln10 * 3 / t60
	const stiff = 2.2e-5
	for n := 1.0; n <= 56; n++ {
		hz := n * f0 * math.Sqrt((1+stiff*n*n)/(1+stiff))
		if hz > 15000 {
			break
		}
		amp := math.Sin(n*math.Pi*q.place) / math.Pow(n, 0.72)
		amp *= radiated(hz, 190) * math.Exp(-hz/6200)
		v.add(hz, amp*q.level, math.Ln10*3/(loss+1.3e-7*hz*hz), 0)
	}
}

// radiated is how well a soundboard radiates: little below its first
// resonances, evenly above.
func radiated(hz, first float64) float64 {
	r := hz * hz / (first * first)
	return r / (1 + r)
}

// knock is the case and soundboard answering the stroke itself.
func knock(v *voice, level float64) {
	for i, hz := range [...]float64{98, 163, 241, 367, 522} {
		v.add(hz, level/float64(i+2), 0.22-0.03*float64(i), 0)
	}
}
