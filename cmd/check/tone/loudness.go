package tone

import (
	"math"

	"agremens/synth"
)

// Loudness is the integrated loudness of stereo sound at 48 kHz in LUFS, as ITU-R
// BS.1770-4 defines it: two filters, blocks of 400 ms that overlap by three
// quarters, gates at -70 LUFS and 10 LU below the mean. Its filters' figures are
// those of its tables 1 and 2 (from memory; TestLoudness holds the tone it is
// calibrated by).
func Loudness(stereo []float32) float64 {
	const block, step = Rate * 4 / 10, Rate / 10
	frames := len(stereo) / 2
	power := make([]float64, frames)
	for side := range 2 {
		shelf := biquad{b0: 1.53512485958697, b1: -2.69169618940638, b2: 1.19839281085285, a1: -1.69065929318241, a2: 0.73248077421585}
		high := biquad{b0: 1, b1: -2, b2: 1, a1: -1.99004745483398, a2: 0.99007225036621}
		for i := range power {
			y := high.next(shelf.next(float64(stereo[2*i+side])))
			power[i] += y * y
		}
	}
	var blocks []float64
	for at := 0; at+block <= frames; at += step {
		sum := 0.0
		for _, p := range power[at : at+block] {
			sum += p
		}
		blocks = append(blocks, sum/block)
	}
	lufs := func(p float64) float64 { return -0.691 + 10*math.Log10(p) }
	mean := func(gate float64) float64 {
		sum, n := 0.0, 0.0
		for _, p := range blocks {
			if lufs(p) > gate {
				sum += p
				n++
			}
		}
		return lufs(sum / n)
	}
	return mean(mean(-70) - 10)
}

type biquad struct{ b0, b1, b2, a1, a2, x1, x2, y1, y2 float64 }

func (f *biquad) next(x float64) float64 {
	y := f.b0*x + f.b1*f.x1 + f.b2*f.x2 - f.a1*f.y1 - f.a2*f.y2
	f.x2, f.x1, f.y2, f.y1 = f.x1, x, f.y1, y
	return y
}

// Passage is what loudness is measured with: a melody with a trill and a mordent
// over broken chords, eight seconds, both hands of plain strength.
func Passage() synth.Sequence {
	const quarter = Rate / 2
	var notes []synth.Note
	at := int64(0)
	play := func(key int, length int64) {
		notes = append(notes, synth.Note{Start: at, End: at + length, Key: key, Strength: 0.6})
		at += length
	}
	for range 2 {
		for _, key := range []int{72, 74, 76, 77, 79, 77, 76, 74} {
			play(key, quarter/2)
		}
		for range 6 {
			play(76, quarter/6)
			play(74, quarter/6)
		}
		play(72, quarter/8)
		play(71, quarter/8)
		play(72, quarter*7/4)
	}
	for bar, chord := range [][3]int{{48, 55, 64}, {43, 55, 65}, {48, 55, 64}, {43, 55, 65}} {
		for i := range 8 {
			start := int64(bar*4*quarter + i*quarter/2)
			notes = append(notes, synth.Note{Start: start, End: start + quarter/2, Key: chord[[]int{0, 2, 1, 2}[i%4]], Strength: 0.6})
		}
	}
	return synth.Sequence{Notes: notes, Length: max(at, 16*quarter)}
}
