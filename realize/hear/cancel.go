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
	turns := turnsOf(n)
	a, b := spectrumOf(x, turns), spectrumOf(sent, turns)
	top := 0.0
	for _, v := range b {
		top = max(top, cmplx.Abs(v))
	}
	for i := range a {
		a[i] *= cmplx.Conj(b[i]) / complex(cmplx.Abs(b[i])+1e-3*top, 0)
	}
	transform(a, turns, true)
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
	m := newWayMeter()
	heard := false
	for s := -wayFFT / 2; s < len(x); s += wayFFT / 4 {
		if m.see(x, sent, s, shift, 1) {
			heard = true
		}
	}
	if !heard {
		return nil, false
	}
	return m.way(int(wayLength * rate)), true
}

// wayMeter measures the way from what was sent to what was heard.
type wayMeter struct {
	cross  []complex128
	power  []float64
	bx, bs []complex128
	turns  []complex128
}

func newWayMeter() *wayMeter {
	return &wayMeter{make([]complex128, wayFFT), make([]float64, wayFFT), make([]complex128, wayFFT), make([]complex128, wayFFT), turnsOf(wayFFT)}
}

// see looks at a window of x from a sample on, and at what was sent shift
// samples earlier; what was seen before keeps the share kept. A window counts
// by what it holds of it: where nobody plays, the way is plain to hear, and
// who plays with the beat must not be taken for its echo. It returns whether
// anything was sent then.
func (m *wayMeter) see(x, sent []float32, from, shift int, kept float64) bool {
	told, heard := 0.0, 1e-9*wayFFT
	for i := range wayFFT {
		w := 0.5 - 0.5*math.Cos(2*math.Pi*(float64(i)+0.5)/wayFFT)
		v, y := at(sent, from+i-shift), w*at(x, from+i)
		m.bs[i] = complex(w*v, 0)
		m.bx[i] = complex(y, 0)
		told, heard = told+real(m.bs[i])*real(m.bs[i]), heard+y*y
	}
	if told == 0 {
		return false
	}
	weight := complex(told/heard, 0)
	transform(m.bx, m.turns, false)
	transform(m.bs, m.turns, false)
	for i := range m.cross {
		m.cross[i] = complex(kept, 0)*m.cross[i] + weight*m.bx[i]*cmplx.Conj(m.bs[i])
		m.power[i] = kept*m.power[i] + real(weight)*(real(m.bs[i])*real(m.bs[i])+imag(m.bs[i])*imag(m.bs[i]))
	}
	return true
}

// way returns so many samples of the filter.
func (m *wayMeter) way(length int) []float64 {
	top := 0.0
	for _, p := range m.power {
		top = max(top, p)
	}
	h := append([]complex128(nil), m.cross...)
	for i := range h {
		h[i] /= complex(m.power[i]+1e-4*top, 0)
	}
	transform(h, m.turns, true)
	out := make([]float64, min(length, wayFFT))
	for i := range out {
		out[i] = real(h[i])
	}
	return out
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
	turns := turnsOf(n)
	transform(hs, turns, false)
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
		transform(b, turns, false)
		for i := range b {
			b[i] *= hs[i]
		}
		transform(b, turns, true)
		for i := range b {
			if k := s + i + shift; k >= 0 && k < len(x) {
				x[k] -= float32(real(b[i]))
			}
		}
	}
}

func spectrumOf(x []float32, turns []complex128) []complex128 {
	out := make([]complex128, 2*len(turns))
	for i, v := range x {
		if v <= 64 && v >= -64 {
			out[i] = complex(float64(v), 0)
		}
	}
	transform(out, turns, false)
	return out
}

// turnsOf returns what [transform] needs for n samples, a power of two.
func turnsOf(n int) []complex128 {
	turns := make([]complex128, n/2)
	for k := range turns {
		s, c := math.Sincos(-2 * math.Pi * float64(k) / float64(n))
		turns[k] = complex(c, s)
	}
	return turns
}

// transform is a radix-2 transform of as many samples as its turns are for;
// the inverse is scaled.
func transform(x, turns []complex128, inverse bool) {
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
	for half, step := 1, n/2; half < n; half, step = half*2, step/2 {
		for start := 0; start < n; start += 2 * half {
			for k := range half {
				turn := turns[k*step]
				if inverse {
					turn = cmplx.Conj(turn)
				}
				a, b := x[start+k], x[start+half+k]*turn
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
