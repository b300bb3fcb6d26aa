package hear

import "math"

// resampler brings a stream to another rate by a windowed sinc, 16 samples of
// the slower rate to either side.
type resampler struct {
	step   float64 // samples of the input for one of the output
	cut    float64 // of the input's rate, the share that passes
	reach  int
	in     []float32
	at     float64 // place of the next output in in
	out    []float32
	kernel []float32 // by 64ths of a sample
}

func newResampler(from, to float64) *resampler {
	r := &resampler{step: from / to, cut: min(1, to/from) * 0.94}
	r.reach = int(math.Ceil(16 / min(1, to/from)))
	r.in = make([]float32, r.reach)
	r.at = float64(r.reach)
	r.kernel = make([]float32, r.reach*64+1)
	for i := range r.kernel {
		x := float64(i) / 64
		v := r.cut
		if i > 0 {
			v = math.Sin(math.Pi*x*r.cut) / (math.Pi * x)
		}
		r.kernel[i] = float32(v * (0.5 + 0.5*math.Cos(math.Pi*x/float64(r.reach))))
	}
	return r
}

// feed returns what can be made of the samples so far; the slice is written
// anew at the next call.
func (r *resampler) feed(x []float32) []float32 {
	r.in = append(r.in, x...)
	r.out = r.out[:0]
	for int(r.at)+r.reach < len(r.in) {
		first := int(r.at) - r.reach + 1
		sum := float32(0)
		for k := range 2*r.reach - 1 {
			d := math.Abs(float64(first+k) - r.at)
			sum += r.in[first+k] * r.kernel[min(int(d*64+0.5), len(r.kernel)-1)]
		}
		r.out = append(r.out, sum)
		r.at += r.step
	}
	if drop := int(r.at) - r.reach; drop > 0 {
		r.in = append(r.in[:0], r.in[drop:]...)
		r.at -= float64(drop)
	}
	return r.out
}

// Resampled returns samples at another rate.
func Resampled(x []float32, from, to float64) []float32 {
	if from == to {
		return x
	}
	r := newResampler(from, to)
	out := append([]float32(nil), r.feed(x)...)
	return append(out, r.feed(make([]float32, r.reach))...)
}
