package hear

import (
	"math"
	"math/bits"
)

// fft finds the spectrum of n real samples, n a power of two of at least 8,
// by one complex transform of half the length.
type fft struct {
	n          int
	window     []float32 // Hann, scaled so that a sine of amplitude 1 has magnitude 1
	swap       []uint16
	cos, sin   []float32 // of 2πk/(n/2), for the half-length transform
	turnR      []float32 // of 2πk/n, to part even and odd samples
	turnI      []float32
	re, im     []float32
	magnitudes []float32
}

func newFFT(n int) *fft {
	h := n / 2
	f := &fft{
		n: n, window: make([]float32, n), swap: make([]uint16, h),
		cos: make([]float32, h/2), sin: make([]float32, h/2),
		turnR: make([]float32, h+1), turnI: make([]float32, h+1),
		re: make([]float32, h), im: make([]float32, h), magnitudes: make([]float32, h+1),
	}
	for i := range f.window {
		f.window[i] = float32((1 - math.Cos(2*math.Pi*(float64(i)+0.5)/float64(n))) * 2 / float64(n))
	}
	shift := 16 - bits.Len(uint(h-1))
	for i := range f.swap {
		f.swap[i] = bits.Reverse16(uint16(i)) >> shift
	}
	for k := range f.cos {
		s, c := math.Sincos(-2 * math.Pi * float64(k) / float64(h))
		f.cos[k], f.sin[k] = float32(c), float32(s)
	}
	for k := range f.turnR {
		s, c := math.Sincos(-2 * math.Pi * float64(k) / float64(n))
		f.turnR[k], f.turnI[k] = float32(c), float32(s)
	}
	return f
}

// magnitude returns |X| of n windowed samples, bins 0 to n/2. The slice is
// written anew at the next call.
func (f *fft) magnitude(x []float32) []float32 {
	h := f.n / 2
	re, im := f.re, f.im
	for i := range re {
		j := int(f.swap[i])
		re[j], im[j] = x[2*i]*f.window[2*i], x[2*i+1]*f.window[2*i+1]
	}
	f.transform()
	for k := 0; k <= h; k++ {
		a, b := k%h, (h-k)%h
		evenR, evenI := (re[a]+re[b])/2, (im[a]-im[b])/2
		oddR, oddI := (im[a]+im[b])/2, (re[b]-re[a])/2
		r := evenR + f.turnR[k]*oddR - f.turnI[k]*oddI
		i := evenI + f.turnR[k]*oddI + f.turnI[k]*oddR
		f.magnitudes[k] = float32(math.Sqrt(float64(r*r + i*i)))
	}
	return f.magnitudes
}

// transform is a radix-2 transform in place of what stands in swapped order.
func (f *fft) transform() {
	h := len(f.re)
	for half, step := 1, h/2; half < h; half, step = half*2, step/2 {
		for start := 0; start < h; start += 2 * half {
			ar, ai := f.re[start:start+half], f.im[start:start+half]
			br, bi := f.re[start+half:start+2*half], f.im[start+half:start+2*half]
			for k := range ar {
				c, s := f.cos[k*step], f.sin[k*step]
				r, i := br[k]*c-bi[k]*s, br[k]*s+bi[k]*c
				br[k], bi[k] = ar[k]-r, ai[k]-i
				ar[k] += r
				ai[k] += i
			}
		}
	}
}
