package hear

import "math"

// The spectrum is looked at every hop in bands of a third of a semitone,
// through windows that are the shorter the higher the frequency, all centred
// on the same instant: a low tone needs a long look to be told from its
// neighbour, and a blow is short.
const (
	perOctave = 36
	lowest    = 52.0 // Hz, lower edge of the bands
	bandCount = 264  // 52 Hz to 8.4 kHz

	midFrom, highFrom = 620.0, 2500.0 // Hz, where the next shorter window takes over

	hopA    = 128 // samples at half the rate: 5.3 ms at 48 kHz
	perHop  = 2   // short looks a hop
	broad   = 5   // broad bands of a short look
	history = 64  // frames kept: 0.34 s

	depth   = 3.0  // powers of ten below the recent level; what is softer counts as silence
	nothing = 1e-7 // added before logarithms
)

// bandFrequency returns the centre of a band in Hz.
func bandFrequency(b float64) float64 { return lowest * math.Exp2(b/perOctave) }

// bandOf is its inverse.
func bandOf(hz float64) float64 { return perOctave * math.Log2(hz/lowest) }

// span is how bins add up to one band.
type span struct {
	from    int
	weights []float32
}

// spectrum turns samples into frames as they come.
type spectrum struct {
	rate         float64
	half         halver // rate/2
	quarter      halver // rate/4
	a, b         tail
	short        *fft // 128 of a
	high         *fft // 512 of a
	mid          *fft // 512 of b
	low          *fft // 1024 of b
	bands        [bandCount]span
	source       [bandCount]uint8 // 0 low, 1 mid, 2 high
	edges        [broad + 1]int   // bins of the short look
	frames       int              // frames made
	log          [history][bandCount]float32
	burst        [history * perHop][broad]float32
	level        float32 // slow maximum of the bands
	base         float32 // its logarithm less depth: what lies below is silence
	burstLevel   [broad]float32
	burstBase    [broad]float32
	raw          [bandCount]float32
	lowMagnitude []float32 // of the last frame, for tuning
	lead         float64   // seconds of silence put before the sound
}

// tail keeps the last samples of a stream; first is the number of its first one.
type tail struct {
	x     []float32
	first int
}

func (t *tail) end() int { return t.first + len(t.x) }

// keep forgets what lies before sample i.
func (t *tail) keep(i int) {
	if d := i - t.first; d > 4096 && d <= len(t.x) {
		t.x = append(t.x[:0], t.x[d:]...)
		t.first = i
	}
}

func newSpectrum(rate float64) *spectrum {
	s := &spectrum{rate: rate, short: newFFT(128), high: newFFT(512), mid: newFFT(512), low: newFFT(1024)}
	// Silence before the first sample, so that frame 0 is centred on it.
	s.half.in = make([]float32, halverTaps/2)
	s.quarter.in = make([]float32, halverTaps/2)
	s.a = tail{make([]float32, 1024), -1024}
	s.b = tail{make([]float32, 1024), -1024}
	for i := range s.bands {
		f := bandFrequency(float64(i))
		n, r, source := 1024.0, rate/4, uint8(0)
		switch {
		case f >= highFrom:
			n, r, source = 512, rate/2, 2
		case f >= midFrom:
			n, r, source = 512, rate/4, 1
		}
		s.source[i] = source
		s.bands[i] = triangle(f, r/n, int(n/2))
	}
	for i, hz := range [broad + 1]float64{280, 750, 1500, 3000, 6000, 11000} {
		s.edges[i] = min(64, int(hz/(rate/2/128)+0.5))
	}
	// What came before the first frame was silence.
	for i := range s.log {
		for b := range s.log[i] {
			s.log[i][b] = log10(0)
		}
	}
	for i := range s.burst {
		for b := range s.burst[i] {
			s.burst[i][b] = log10(0)
		}
	}
	s.level = 1e-6
	for i := range s.burstLevel {
		s.burstLevel[i] = 1e-9
	}
	return s
}

// triangle weighs the bins within a quarter-tone of f, or within one bin.
func triangle(f, df float64, last int) span {
	w := max(f*(math.Exp2(0.5/12)-1), df)
	from := max(1, int(math.Ceil((f-w)/df)))
	to := min(last, int((f+w)/df))
	s := span{from: from}
	sum := float32(0)
	for k := from; k <= to; k++ {
		v := float32(1 - math.Abs(float64(k)*df-f)/w)
		s.weights = append(s.weights, v)
		sum += v
	}
	for i := range s.weights {
		s.weights[i] /= sum + 1e-9
	}
	return s
}

// feed takes samples and calls frame for each new frame.
func (s *spectrum) feed(x []float32, frame func()) {
	s.a.x = s.half.feed(x, s.a.x)
	fresh := s.a.x[max(0, len(s.a.x)-s.half.made):]
	s.b.x = s.quarter.feed(fresh, s.b.x)
	for {
		centre := s.frames * hopA
		if centre+256 > s.a.end() || centre/2+512 > s.b.end() {
			break
		}
		s.frame(centre)
		s.frames++
		frame()
	}
	s.a.keep(s.frames*hopA - 512)
	s.b.keep(s.frames*hopA/2 - 1024)
}

// seconds returns the time of a frame's centre in the sound fed.
func (s *spectrum) seconds(frame float64) float64 { return frame*hopA*2/s.rate - s.lead }

func (s *spectrum) frame(centre int) {
	a := func(n int, at int) []float32 { i := at - n/2 - s.a.first; return s.a.x[i : i+n] }
	b := func(n int) []float32 { i := centre/2 - n/2 - s.b.first; return s.b.x[i : i+n] }
	high, mid, low := s.high.magnitude(a(512, centre)), s.mid.magnitude(b(512)), s.low.magnitude(b(1024))
	s.lowMagnitude = low
	spectra := [3][]float32{low, mid, high}
	top := float32(0)
	for i := range s.bands {
		m := spectra[s.source[i]][s.bands[i].from:]
		v := float32(0)
		for k, w := range s.bands[i].weights {
			v += w * m[k]
		}
		s.raw[i] = v
		top = max(top, v)
	}
	const fall = 0.9985 // 3.5 s
	s.level = max(s.level*fall, top, 1e-6)
	row := &s.log[s.frames%history]
	for i, v := range s.raw {
		row[i] = log10(v)
	}
	s.base = log10(s.level) - depth
	for j := range perHop {
		m := s.short.magnitude(a(128, centre+j*hopA/perHop))
		out := &s.burst[(s.frames*perHop+j)%len(s.burst)]
		for i := range out {
			e := float32(0)
			for k := s.edges[i]; k < s.edges[i+1]; k++ {
				e += m[k] * m[k]
			}
			e = float32(math.Sqrt(float64(e)))
			s.burstLevel[i] = max(s.burstLevel[i]*0.999, e, 1e-6)
			out[i] = log10(e)
			s.burstBase[i] = log10(s.burstLevel[i]) - depth
		}
	}
}

func log10(v float32) float32 { return float32(math.Log10(float64(v + nothing))) }

// halver halves the rate of a stream. The sample it makes at i stands exactly
// at sample 2i of what it is given.
type halver struct {
	in   []float32
	made int // samples made by the last call
}

const halverTaps = 31

// sideTaps are the odd taps of a half-band low-pass to either side of its
// middle, which is 1/2; the even ones are 0. A sinc under a Blackman window.
var sideTaps = [...]float32{0.313274, -0.091911, 0.042468, -0.020171, 0.008789, -0.003229, 0.000854, -0.000075}

// feed appends what comes out to out.
func (h *halver) feed(x, out []float32) []float32 {
	h.in = append(h.in, x...)
	before := len(out)
	i := 0
	for ; i+halverTaps <= len(h.in); i += 2 {
		w := h.in[i : i+halverTaps]
		v := 0.5 * w[halverTaps/2]
		for k, c := range sideTaps {
			d := 2*k + 1
			v += c * (w[halverTaps/2-d] + w[halverTaps/2+d])
		}
		out = append(out, v)
	}
	h.in = append(h.in[:0], h.in[i:]...)
	h.made = len(out) - before
	return out
}
