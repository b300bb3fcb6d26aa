package tone

import (
	"agremens/synth"
	"agremens/synth/tuning"
)

// held is a key of ours held as long as the recorded ones, both sides together,
// from its attack.
func held(instrument string, key int, strength float64) []float64 {
	n := int64(seconds * Rate)
	return fromAttack(sounded(instrument, synth.Sequence{
		Notes:  []synth.Note{{End: n, Key: key, Strength: float32(strength)}},
		Length: n,
	}))
}

// sounded renders a sequence, both sides together.
func sounded(instrument string, seq synth.Sequence) []float64 {
	stereo := synth.RenderSequence(Rate, synth.Instrument(instrument), tuning.Tuning{}, seq)
	x := make([]float64, len(stereo)/2)
	for i := range x {
		x[i] = float64(stereo[2*i]+stereo[2*i+1]) / 2
	}
	return x
}

func fromAttack(x []float64) []float64 { return x[attackAt(x):] }
