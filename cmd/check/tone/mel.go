package tone

import (
	"math"
	"math/bits"
	"math/cmplx"
)

// What two sounds are compared by: the level in 40 bands from 60 Hz to 12 kHz,
// evenly spaced on the mel scale (O'Shaughnessy 1987: 2595 log10(1 + f/700)),
// every 10 ms or so over the first two and a half seconds. What lies more than
// 60 dB below the note's own loudest band does not count as different.
const (
	bands   = 40
	lowest  = 60.0
	highest = 12000.0
	window  = 4096
	hop     = 1024
	compare = 2.5 // seconds
	floor   = 60.0
)

// Mel is a note's picture: frames of band levels in dB.
type Mel [][]float64

// MelOf makes the picture of a sound that begins with its attack.
func MelOf(x []float64) Mel {
	filters := melFilters()
	frames := int(compare*Rate-window)/hop + 1
	m := make(Mel, frames)
	buf := make([]complex128, window)
	for f := range m {
		spectrum(buf, x, f*hop)
		row := make([]float64, bands)
		for b, w := range filters {
			sum := 0.0
			for i, g := range w.gain {
				p := buf[w.from+i]
				sum += g * (real(p)*real(p) + imag(p)*imag(p))
			}
			row[b] = 10 * math.Log10(sum+1e-20)
		}
		m[f] = row
	}
	top := math.Inf(-1)
	for _, row := range m {
		for _, l := range row {
			top = max(top, l)
		}
	}
	for _, row := range m {
		for b := range row {
			row[b] = max(row[b], top-floor)
		}
	}
	return m
}

// Apart is the mean difference of two pictures in dB, their levels made equal.
func Apart(a, b Mel) float64 {
	mean, n := 0.0, 0.0
	for f := range a {
		for i := range a[f] {
			mean += a[f][i] - b[f][i]
			n++
		}
	}
	mean /= n
	sum := 0.0
	for f := range a {
		for i := range a[f] {
			sum += math.Abs(a[f][i] - b[f][i] - mean)
		}
	}
	return sum / n
}

// filter is one band: gains of neighbouring bins of the spectrum.
type filter struct {
	from int
	gain []float64
}

func melFilters() []filter {
	mel := func(hz float64) float64 { return 2595 * math.Log10(1+hz/700) }
	hz := func(m float64) float64 { return 700 * (math.Pow(10, m/2595) - 1) }
	at := func(i int) float64 {
		return hz(mel(lowest)+(mel(highest)-mel(lowest))*float64(i)/(bands+1)) * window / Rate
	}
	out := make([]filter, bands)
	for b := range out {
		lo, mid, hi := at(b), at(b+1), at(b+2)
		from := int(math.Ceil(lo))
		f := filter{from: from}
		for i := from; float64(i) < hi; i++ {
			x := float64(i)
			f.gain = append(f.gain, max(0, min((x-lo)/(mid-lo), (hi-x)/(hi-mid))))
		}
		out[b] = f
	}
	return out
}

// spectrum fills buf with the transform of len(buf) samples of x from a place
// on, through a Hann window. What lies outside x is silence.
func spectrum(buf []complex128, x []float64, from int) {
	n := len(buf)
	for i := range buf {
		buf[i] = 0
		if j := from + i; j >= 0 && j < len(x) {
			buf[i] = complex(x[j]*(0.5-0.5*math.Cos(2*math.Pi*float64(i)/float64(n))), 0)
		}
	}
	fft(buf)
}

// fft transforms x in place; its length is a power of two.
func fft(x []complex128) {
	n := len(x)
	shift := 64 - bits.TrailingZeros(uint(n))
	for i := range x {
		if j := int(bits.Reverse64(uint64(i)) >> shift); j > i {
			x[i], x[j] = x[j], x[i]
		}
	}
	for size := 2; size <= n; size *= 2 {
		turn := cmplx.Rect(1, -2*math.Pi/float64(size))
		for at := 0; at < n; at += size {
			w := complex(1, 0)
			for k := at; k < at+size/2; k++ {
				a, b := x[k], x[k+size/2]*w
				x[k], x[k+size/2] = a+b, a-b
				w *= turn
			}
		}
	}
}

// BandGains are how much of a sinusoid's energy each band takes.
func BandGains(hz float64) [bands]float64 {
	mel := func(hz float64) float64 { return 2595 * math.Log10(1+hz/700) }
	x := (mel(hz)-mel(lowest))/(mel(highest)-mel(lowest))*(bands+1) - 1 // in bands
	var out [bands]float64
	for b := range out {
		out[b] = max(0, 1-math.Abs(x-float64(b)))
	}
	return out
}

// FrameSeconds is the middle of a picture's frame in seconds.
func FrameSeconds(frame int) float64 { return (float64(frame*hop) + window/2) / Rate }
