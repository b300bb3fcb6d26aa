package hear

import (
	"math"
	"math/cmplx"
)

// What the loudspeaker was sent is known, so it can be taken out of what the
// microphone heard: the delay is where the two agree best, the way between
// them a short filter for each frequency, found from the whole recording.

const (
	longestDelay = 0.35  // s
	wayLength    = 0.12  // s, of the way from loudspeaker to microphone
	wayBefore    = 0.002 // s before its strongest moment
	delayFrom    = 12.0  // s of sound that the delay is found from
	wayFFT       = 8192
)

// TakeOut returns x less what is in it of sent, both at the same rate and on
// the same time scale but for a delay of 0 to 0.35 s, which it returns too.
// Where sent is silent, x comes back as it is with found false.
func TakeOut(x, sent []float32, rate float64) (rest []float32, delay float64, found bool) {
	from := 0
	for from < len(sent) && sent[from] == 0 {
		from++
	}
	if from >= len(sent) || from >= len(x) {
		return x, 0, false
	}
	lag, strength := delayOf(window(x, from, rate), window(sent, from, rate), rate)
	if strength < 6 {
		return x, 0, false
	}
	h, ok := wayOf(x, sent, lag, rate)
	if !ok {
		return x, lag / rate, true
	}
	rest = append([]float32(nil), x...)
	subtract(rest, sent, h, int(lag)-int(wayBefore*rate))
	return rest, lag / rate, true
}

func window(x []float32, from int, rate float64) []float32 {
	return x[min(from, len(x)):min(len(x), from+int(delayFrom*rate))]
}

// delayOf returns the lag in samples, and how far the agreement there stands
// above the usual.
func delayOf(x, sent []float32, rate float64) (lag, strength float64) {
	n := 1
	for n < len(x)+len(sent) {
		n *= 2
	}
	a, b := spectrumOf(x, n), spectrumOf(sent, n)
	top := 0.0
	for _, v := range b {
		top = max(top, cmplx.Abs(v))
	}
	for i := range a {
		a[i] *= cmplx.Conj(b[i]) / complex(cmplx.Abs(b[i])+1e-3*top, 0)
	}
	transform(a, true)
	best, sum := 0, 0.0
	last := min(int(longestDelay*rate), n/2)
	for i := range last {
		v := math.Abs(real(a[i]))
		sum += v
		if v > math.Abs(real(a[best])) {
			best = i
		}
	}
	lag = float64(best)
	if best > 0 && best < last-1 {
		l, c, r := math.Abs(real(a[best-1])), math.Abs(real(a[best])), math.Abs(real(a[best+1]))
		if q := l - 2*c + r; q < 0 {
			lag += 0.5 * (l - r) / q
		}
	}
	return lag, math.Abs(real(a[best])) / (sum/float64(last) + 1e-30)
}

// wayOf returns the filter by which sent, moved on by lag less wayBefore,
// comes nearest to x.
func wayOf(x, sent []float32, lag, rate float64) ([]float64, bool) {
	shift := int(lag) - int(wayBefore*rate)
	cross, power := make([]complex128, wayFFT), make([]float64, wayFFT)
	bx, bs := make([]complex128, wayFFT), make([]complex128, wayFFT)
	heard := false
	for s := -wayFFT / 2; s < len(x); s += wayFFT / 4 {
		loud := 0.0
		for i := range wayFFT {
			w := 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/wayFFT)
			bs[i] = complex(w*at(sent, s+i-shift), 0)
			bx[i] = complex(w*at(x, s+i), 0)
			loud = max(loud, math.Abs(real(bs[i])))
		}
		if loud == 0 {
			continue
		}
		heard = true
		transform(bx, false)
		transform(bs, false)
		for i := range cross {
			cross[i] += bx[i] * cmplx.Conj(bs[i])
			power[i] += real(bs[i])*real(bs[i]) + imag(bs[i])*imag(bs[i])
		}
	}
	if !heard {
		return nil, false
	}
	top := 0.0
	for _, p := range power {
		top = max(top, p)
	}
	for i := range cross {
		cross[i] /= complex(power[i]+1e-4*top, 0)
	}
	transform(cross, true)
	h := make([]float64, int(wayLength*rate))
	for i := range h {
		h[i] = real(cross[i])
	}
	return h, true
}

func at(x []float32, i int) float64 {
	if i < 0 || i >= len(x) {
		return 0
	}
	return float64(x[i])
}

// subtract takes sent, filtered and moved on, out of x, block by block.
func subtract(x, sent []float32, h []float64, shift int) {
	n := 2 * wayFFT
	hs := make([]complex128, n)
	for i, v := range h {
		hs[i] = complex(v, 0)
	}
	transform(hs, false)
	block := n - len(h)
	b := make([]complex128, n)
	for s := 0; s < len(sent) && s+shift < len(x); s += block {
		clear(b)
		any := false
		for i := 0; i < block && s+i < len(sent); i++ {
			b[i] = complex(float64(sent[s+i]), 0)
			any = any || sent[s+i] != 0
		}
		if !any {
			continue
		}
		transform(b, false)
		for i := range b {
			b[i] *= hs[i]
		}
		transform(b, true)
		for i := range b {
			if k := s + i + shift; k >= 0 && k < len(x) {
				x[k] -= float32(real(b[i]))
			}
		}
	}
}

func spectrumOf(x []float32, n int) []complex128 {
	out := make([]complex128, n)
	for i, v := range x {
		if v <= 64 && v >= -64 {
			out[i] = complex(float64(v), 0)
		}
	}
	transform(out, false)
	return out
}

// transform is a radix-2 transform of a power of two; the inverse is scaled.
func transform(x []complex128, inverse bool) {
	n := len(x)
	for i, j := 1, 0; i < n; i++ {
		bit := n >> 1
		for ; j&bit != 0; bit >>= 1 {
			j ^= bit
		}
		j ^= bit
		if i < j {
			x[i], x[j] = x[j], x[i]
		}
	}
	sign := -2 * math.Pi
	if inverse {
		sign = -sign
	}
	turns := make([]complex128, n/2)
	for k := range turns {
		s, c := math.Sincos(sign * float64(k) / float64(n))
		turns[k] = complex(c, s)
	}
	for half, step := 1, n/2; half < n; half, step = half*2, step/2 {
		for start := 0; start < n; start += 2 * half {
			for k := range half {
				a, b := x[start+k], x[start+half+k]*turns[k*step]
				x[start+k], x[start+half+k] = a+b, a-b
			}
		}
	}
	if inverse {
		for i := range x {
			x[i] /= complex(float64(n), 0)
		}
	}
}
