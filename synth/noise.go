package synth

import "math"

// burst describes a short noise: its level, the middle and breadth of its
// band in Hz, and the seconds in which it falls by 60 dB.
type burst struct {
	level, hz, breadth, t60 float64
}

// noise plays a burst: white noise through a two-pole band, dying away.
type noise struct {
	seed       uint32
	level, die float64
	c, d, gain float64
	x1, x2     float64
}

// strike starts the burst; a level of 0 keeps silent.
func (n *noise) strike(b burst, rate float64) {
	n.level = b.level
	if b.level == 0 {
		return
	}
	r := math.Exp(-math.Pi * b.breadth / rate)
	n.die = math.Exp(-math.Ln10 * 3 / (b.t60 * rate))
	n.c, n.d = 2*r*math.Cos(2*math.Pi*b.hz/rate), r*r
	// Keeps the band's loudness roughly the same whatever its breadth.
	n.gain = math.Sqrt(1-r*r) * math.Sin(2*math.Pi*b.hz/rate) * 2
	n.x1, n.x2 = 0, 0
}

// add adds the burst's next samples to out and reports whether any of it is
// left.
func (n *noise) add(out []float64) bool {
	if n.level < silence {
		return false
	}
	for j := range out {
		n.seed = n.seed*1664525 + 1013904223
		white := float64(int32(n.seed)) / (1 << 31)
		n.x1, n.x2 = n.c*n.x1-n.d*n.x2+n.gain*white, n.x1
		out[j] += n.level * n.x1
		n.level *= n.die
	}
	return true
}
