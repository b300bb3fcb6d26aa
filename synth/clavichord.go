package synth

import "math"

// buildClavichord touches two strings with a brass tangent that stays there:
// a very soft sound, all of it near the key, silent at once when the key
// comes up and the listing lies on the string.
func buildClavichord(v *voice, s stroke) {
	t60 := 4.2 * math.Exp2(-float64(s.key-36)/30)
	loss := math.Ln10 * 3 / t60
	soft := 1900 * math.Exp2(float64(s.key-60)/36+1.2*(s.strength-0.6))
	const stiff = 3e-5
	low, high := strayed(s.hz, -0.3)/s.hz, strayed(s.hz, 0.3)/s.hz
	for n := 1.0; n <= 90; n++ {
		hz := n * s.hz * math.Sqrt((1+stiff*n*n)/(1+stiff))
		if hz > 10000 {
			break
		}
		// Set going at its very end, the string has no node there: every
		// partial speaks, the higher the fainter.
		amp := radiated(hz, 300) / math.Pow(n, 0.9) / (1 + math.Pow(hz/soft, 2))
		decay := math.Ln10 * 3 / (loss + 2.2e-7*hz*hz)
		if n > 12 {
			v.add(hz, amp, decay, bridgePhase(hz))
			continue
		}
		v.add(hz*high, amp*0.55, decay*0.8, bridgePhase(hz))
		v.add(hz*low, amp*0.45, decay*1.2, bridgePhase(hz))
	}
	v.scale(0.060 * touchLevel(s.strength))
	knock(v, 0.010*touchLevel(s.strength))
	v.rise = int(v.rate * 0.0006)
	v.noise[0].strike(burst{level: 0.005 * s.strength, hz: 1500, breadth: 1800, t60: 0.018}, v.rate)
	v.damp = damping{
		seconds: 0.09, bright: 1500,
		noise: burst{level: 0.002, hz: 800, breadth: 900, t60: 0.03},
	}
}
