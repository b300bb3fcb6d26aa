package synth

import "math"

// kneeAt is the level up to which the output is exactly what was mixed.
const kneeAt = 0.8

// leveller turns a crowd of loud notes down as one, at once, and comes back
// within a second: only the first peak of a chord too loud is bent.
type leveller struct {
	gain    float64 // what is taken away: 0 to 1
	recover float64 // share of it left after a frame
}

func newLeveller(rate int) leveller {
	return leveller{recover: math.Exp(-1 / (0.3 * float64(rate)))}
}

func (l *leveller) apply(left, right []float64) {
	for i := range left {
		l.gain *= l.recover
		peak := max(math.Abs(left[i]), math.Abs(right[i]))
		if over := 1 - kneeAt/peak; peak > kneeAt && over > l.gain {
			l.gain = over
		}
		left[i] *= 1 - l.gain
		right[i] *= 1 - l.gain
	}
}

// knee bends what is louder still, when clicks come on top, softly below 1.
func knee(x float64) float64 {
	switch {
	case x > kneeAt:
		return kneeAt + (1-kneeAt)*math.Tanh((x-kneeAt)/(1-kneeAt))
	case x < -kneeAt:
		return -kneeAt + (1-kneeAt)*math.Tanh((x+kneeAt)/(1-kneeAt))
	}
	return x
}
