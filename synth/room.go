package synth

import "math"

// room is a small panelled room: eight delays that feed each other and lose
// their brightness as they go. The instruments sound in it, the clicks do
// not, so that silence before a click is silence.
type room struct {
	lines  [8]delay
	low    [8]float64 // state of each line's loss of treble
	active bool
	quiet  int // frames since anything was heard
	hold   int // frames of quiet after which the room rests
}

type delay struct {
	buf  []float64
	at   int
	gain float64
}

// Lengths of the delays in milliseconds, without common factors at usual
// rates; and the seconds in which the room's sound falls by 60 dB.
var roomMS = [8]float64{11.3, 14.9, 18.1, 21.7, 25.3, 29.9, 34.1, 39.7}

const (
	roomSeconds = 0.55
	roomTreble  = 0.42 // share of the old value kept by the treble loss
	roomQuiet   = 1e-6
)

func newRoom(rate int) *room {
	r := &room{hold: rate / 4}
	for i, ms := range roomMS {
		n := int(ms*float64(rate)/1000) | 1
		r.lines[i] = delay{
			buf:  make([]float64, n),
			gain: math.Pow(10, -3*float64(n)/(roomSeconds*float64(rate))),
		}
	}
	return r
}

// add sends the wet input through the room and adds what comes back.
func (r *room) add(left, right, wetL, wetR []float64) {
	if !r.active {
		if !anyLouder(wetL, 0) && !anyLouder(wetR, 0) {
			return
		}
		r.active, r.quiet = true, 0
	}
	heard := false
	for j := range left {
		var x [8]float64
		for i := range r.lines {
			d := &r.lines[i]
			r.low[i] = d.buf[d.at]*d.gain*(1-roomTreble) + r.low[i]*roomTreble
			x[i] = r.low[i]
		}
		l, rt := x[0]-x[2]+x[4]-x[6], x[1]-x[3]+x[5]-x[7]
		mix(&x)
		for i := range r.lines {
			d := &r.lines[i]
			in := wetL[j]
			if i%2 == 1 {
				in = wetR[j]
			}
			d.buf[d.at] = x[i] + in
			if d.at++; d.at == len(d.buf) {
				d.at = 0
			}
		}
		left[j] += l
		right[j] += rt
		heard = heard || math.Abs(l) > roomQuiet || math.Abs(rt) > roomQuiet || wetL[j] != 0
	}
	if r.quiet += len(left); heard {
		r.quiet = 0
	}
	if r.quiet > r.hold {
		r.rest()
	}
}

// rest empties the room, so that it costs nothing and is exactly silent.
func (r *room) rest() {
	r.active = false
	r.low = [8]float64{}
	for i := range r.lines {
		clear(r.lines[i].buf)
	}
}

// mix is the 8×8 Hadamard matrix, which keeps the energy.
func mix(x *[8]float64) {
	for step := 1; step < 8; step *= 2 {
		for i := 0; i < 8; i += 2 * step {
			for k := i; k < i+step; k++ {
				x[k], x[k+step] = x[k]+x[k+step], x[k]-x[k+step]
			}
		}
	}
	const f = 0.35355339059327373 // 1/√8
	for i := range x {
		x[i] *= f
	}
}

func anyLouder(x []float64, than float64) bool {
	for _, s := range x {
		if math.Abs(s) > than {
			return true
		}
	}
	return false
}
