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
