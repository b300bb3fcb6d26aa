package hear

import "math"

// tuner finds how far the instrument is from equal temperament at 440 Hz, from
// where the peaks of the spectrum lie between semitones.
type tuner struct {
	re, im, all float64
}

// see takes in the peaks of the last frame between 200 Hz and 1.3 kHz, where
// bins are narrow against a semitone and partials hardly stretched.
func (t *tuner) see(s *spectrum, frame int) {
	m := s.lowMagnitude
	df := s.rate / 4 / 1024
	for k := int(200 / df); k < int(1300/df); k++ {
		v := m[k]
		if v < 0.05*s.level || v <= m[k-1] || v < m[k+1] {
			continue
		}
		l, c, r := math.Log(float64(m[k-1])+1e-9), math.Log(float64(v)+1e-9), math.Log(float64(m[k+1])+1e-9)
		d := 0.0
		if q := l - 2*c + r; q < 0 {
			d = 0.5 * (l - r) / q
		}
		semitones := 69 + 12*math.Log2((float64(k)+d)*df/440)
		sin, cos := math.Sincos(2 * math.Pi * semitones)
		w := float64(v / s.level)
		t.re += w * cos
		t.im += w * sin
		t.all += w
	}
}

// cents returns the mean deviation, between -50 and 50, and whether the peaks
// agree on one.
func (t *tuner) cents() (float64, bool) {
	r := math.Hypot(t.re, t.im)
	if t.all < 30 || r < 0.25*t.all {
		return 0, false
	}
	return 100 * math.Atan2(t.im, t.re) / (2 * math.Pi), true
}
