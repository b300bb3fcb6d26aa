package synth_test

import (
	"testing"

	"agremens/synth"
)

// BenchmarkDense reports how many times faster than it sounds the densest
// music is rendered: two hands, trill and chords.
func BenchmarkDense(b *testing.B) {
	for _, inst := range synth.Instruments() {
		b.Run(string(inst.Key), func(b *testing.B) {
			e := engine(b, inst.Key)
			e.Play(dense(rate * 4))
			buf := make([]float32, 2*4096)
			for range 12 {
				e.Render(buf)
			}
			for b.Loop() {
				e.Render(buf)
			}
			seconds := float64(b.N) * 4096 / rate
			b.ReportMetric(seconds/b.Elapsed().Seconds(), "x-realtime")
		})
	}
}

// BenchmarkVoices reports how many held notes of four octaves one core
// renders in real time.
func BenchmarkVoices(b *testing.B) {
	const voices = 32
	for _, inst := range synth.Instruments() {
		if inst.Key == "click" {
			continue
		}
		b.Run(string(inst.Key), func(b *testing.B) {
			seq := synth.Sequence{Length: 2 * rate, Loop: true}
			for i := range voices {
				seq.Notes = append(seq.Notes, synth.Note{Start: 0, End: 2*rate - 1, Key: 36 + i*3/2, Strength: 0.6})
			}
			e := engine(b, inst.Key)
			e.Play(seq)
			buf := make([]float32, 2*4096)
			for b.Loop() {
				e.Render(buf)
			}
			b.ReportMetric(voices*float64(b.N)*4096/rate/b.Elapsed().Seconds(), "voices/core")
		})
	}
}
