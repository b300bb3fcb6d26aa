package main

import (
	"math"
	"math/rand/v2"
)

const (
	rate    = 48000.0
	seconds = 10.0
)

// strike is a note that is played.
type strike struct {
	at, until float64
	midi, vel int
}

// mixture is a recording made of random music, with its truth.
type mixture struct {
	x       []float32
	strikes []strike
	cents   float64 // as told to the ear
}

func newMixture(b *bank, r *rand.Rand) *mixture {
	m := &mixture{}
	m.compose(r)
	tuning := r.Float64()*60 - 30
	m.cents = tuning + r.NormFloat64()*3
	stretch := r.Float64() * 3
	m.x = make([]float32, int(seconds*rate))
	pedal := r.Float64() < 0.4
	for i, s := range m.strikes {
		until := s.until
		if pedal {
			until = math.Ceil(s.until/0.9) * 0.9
		}
		for _, o := range m.strikes[i+1:] {
			if o.midi == s.midi && o.at > s.at+0.01 {
				until = min(until, o.at)
				break
			}
		}
		x, on := b.note(s.midi, s.vel, tuning+stretch*math.Pow(float64(s.midi-69)/24, 3), until-s.at+0.6)
		release := (until-s.at)*rate + on
		fall := (0.02 + 0.06*r.Float64()) * rate
		start := s.at*rate - on
		k0 := int(math.Floor(start))
		f := float32(start - float64(k0))
		last := float32(0)
		for i, v := range x {
			if d := float64(i) - release; d > 0 {
				v *= float32(math.Exp(-d / fall))
			}
			if k := k0 + i; k >= 0 && k < len(m.x) {
				m.x[k] += (1-f)*v + f*last
			}
			last = v
		}
	}
	m.room(r)
	m.microphone(r)
	return m
}

// compose draws two hands of scales, trills, leaps, chords and repeated notes.
func (m *mixture) compose(r *rand.Rand) {
	beat := 0.35 + 0.6*r.Float64()
	loud := 30 + r.IntN(60)
	vel := func() int { return min(120, max(16, loud+int(r.NormFloat64()*12))) }
	hand := func(low, high int, together bool, chords float64) {
		t, at := 0.4+0.2*r.Float64(), low+r.IntN(high-low)
		var chord []int
		for t < seconds-0.3 {
			parts := [...]int{1, 1, 2, 2, 3, 4, 4, 6, 8}[r.IntN(9)]
			step := beat / float64(parts)
			if step < 0.055 {
				continue
			}
			kind := r.IntN(6)
			other := at + 1 + r.IntN(2)
			if kind == 5 {
				chord = chord[:0]
				for k := range 1 + r.IntN(3) {
					chord = append(chord, [...]int{3, 4, 5, 7, 12}[r.IntN(5)]+4*k)
				}
			}
			for i := range parts {
				switch kind {
				case 0: // trill
					if parts > 2 {
						at, other = other, at
					} else {
						at += r.IntN(9) - 4
					}
				case 1: // scale
					at += 1 + r.IntN(2)
				case 2:
					at -= 1 + r.IntN(2)
				case 3:
					at += r.IntN(15) - 7
				case 4: // the same again, or a leap
					if r.IntN(2) == 0 {
						at += r.IntN(25) - 12
					}
				}
				if at < low || at > high {
					at = low + r.IntN(high-low+1)
				}
				when := t + float64(i)*step + r.NormFloat64()*0.008
				if !together {
					when += r.NormFloat64() * 0.03
				}
				length := step * (0.5 + 0.6*r.Float64())
				m.strikes = append(m.strikes, strike{when, when + length, at, vel()})
				if kind == 5 { // the same chord again and again
					for _, d := range chord {
						w := when + r.NormFloat64()*0.008
						m.strikes = append(m.strikes, strike{w, w + length, at + d, vel()})
					}
					continue
				}
				if r.Float64() < chords && parts < 4 {
					above := at
					for range 1 + r.IntN(3) {
						above += 3 + r.IntN(6)
						w := when + math.Abs(r.NormFloat64())*0.012
						if r.IntN(8) == 0 {
							w += 0.05 * r.Float64()
						}
						m.strikes = append(m.strikes, strike{w, w + length, above, vel()})
					}
				}
				if r.IntN(25) == 0 { // a rest
					break
				}
			}
			t += beat
		}
	}
	together := r.IntN(4) > 0
	hand(34+r.IntN(10), 55+r.IntN(10), together, 0.7*r.Float64())
	hand(56+r.IntN(8), 80+r.IntN(12), together, 0.5*r.Float64())
	// Sorted, and no key struck twice within 45 ms.
	for i := 1; i < len(m.strikes); i++ {
		for j := i; j > 0 && m.strikes[j].at < m.strikes[j-1].at; j-- {
			m.strikes[j], m.strikes[j-1] = m.strikes[j-1], m.strikes[j]
		}
	}
	kept := m.strikes[:0]
	last := map[int]float64{}
	for _, s := range m.strikes {
		if t, ok := last[s.midi]; ok && s.at-t < 0.045 || s.midi < 24 || s.midi > 105 {
			continue
		}
		last[s.midi] = s.at
		kept = append(kept, s)
	}
	m.strikes = kept
}

// room adds reflections: single ones at first, then ever denser, dying away.
// The direct sound stays where it is.
func (m *mixture) room(r *rand.Rand) {
	if r.Float64() < 0.2 {
		return
	}
	fall := (0.15 + 0.55*r.Float64()) / 6.9 // s to 1/e in energy... of amplitude
	total := math.Pow(10, (r.Float64()*14-8)/20)
	type tap struct {
		at   int
		gain float32
	}
	var taps []tap
	energy := 0.0
	for t := 0.001 + 0.004*r.Float64(); t < min(0.5, 5*fall); {
		g := math.Exp(-t / fall)
		if r.IntN(2) == 0 && t > 0.02 {
			g = -g
		}
		taps = append(taps, tap{int(t * rate), float32(g)})
		energy += g * g
		t += (0.3 + r.Float64()) * max(0.0007, 0.003-t*0.05)
	}
	scale := float32(total / math.Sqrt(energy))
	out := make([]float32, len(m.x))
	copy(out, m.x)
	for _, t := range taps {
		g := t.gain * scale
		for i, v := range m.x[:len(m.x)-t.at] {
			out[i+t.at] += g * v
		}
	}
	m.x = out
}

// microphone adds noise, a beat from a loudspeaker, the microphone's own
// colour and level control.
func (m *mixture) microphone(r *rand.Rand) {
	power := 0.0
	for _, v := range m.x {
		power += float64(v) * float64(v)
	}
	level := math.Sqrt(power / float64(len(m.x)))
	if r.IntN(6) == 0 {
		m.clicks(level, r)
	}
	if r.Float64() < 0.9 {
		m.noise(level*math.Pow(10, -(8+32*r.Float64())/20), r)
	}
	if r.Float64() < 0.85 {
		m.x = onePole(m.x, 60+100*r.Float64(), true)
		if r.IntN(2) == 0 {
			m.x = onePole(m.x, 60+100*r.Float64(), true)
		}
		m.x = onePole(m.x, 5000+10000*r.Float64(), false)
		bright := onePole(m.x, 2500, true)
		g := float32(r.Float64()*0.9 - 0.3)
		for i := range m.x {
			m.x[i] += g * bright[i]
		}
	}
	if r.IntN(4) == 0 {
		m.levelControl(r)
	}
}

func (m *mixture) clicks(level float64, r *rand.Rand) {
	every, f := 0.3+0.7*r.Float64(), 1000+2500*r.Float64()
	gain := level * (0.2 + r.Float64())
	for t := every * r.Float64(); t < seconds-0.1; t += every {
		k := int(t * rate)
		for i := range 1500 {
			s := float64(i) / rate
			m.x[k+i] += float32(gain * math.Sin(2*math.Pi*f*s) * math.Exp(-s/0.006))
		}
	}
}

func (m *mixture) noise(level float64, r *rand.Rand) {
	n := make([]float32, len(m.x))
	for i := range n {
		n[i] = float32(r.NormFloat64())
	}
	switch r.IntN(3) {
	case 0: // falling towards the treble
		a, b := onePole(n, 60, false), onePole(n, 1000, false)
		for i := range n {
			n[i] = 6*a[i] + b[i] + 0.15*n[i]
		}
	case 1: // in the range of voices, coming and going
		n = onePole(onePole(n, 300, true), 2500, false)
		for i := range n {
			n[i] *= float32(0.5 + 0.5*math.Abs(math.Sin(2*math.Pi*2.3*float64(i)/rate)))
		}
	}
	power := 0.0
	for _, v := range n {
		power += float64(v) * float64(v)
	}
	g := float32(level / math.Sqrt(power/float64(len(n))))
	for i := range n {
		hum := 0.3 * math.Sin(2*math.Pi*50*float64(i)/rate)
		m.x[i] += g*n[i] + float32(level*hum)
	}
}

func (m *mixture) levelControl(r *rand.Rand) {
	top := float32(0)
	for _, v := range m.x {
		top = max(top, max(v, -v))
	}
	threshold := float64(top) * (0.04 + 0.1*r.Float64())
	ratio := 1/(1.5+2*r.Float64()) - 1
	attack, release := 1-math.Exp(-1/(0.003*rate+0.01*rate*r.Float64())), 1-math.Exp(-1/(0.15*rate+0.3*rate*r.Float64()))
	level := 0.0
	for i, v := range m.x {
		e := math.Abs(float64(v))
		if e > level {
			level += attack * (e - level)
		} else {
			level += release * (e - level)
		}
		if level > threshold {
			m.x[i] = v * float32(math.Pow(level/threshold, ratio))
		}
	}
}

// onePole is a first-order filter.
func onePole(x []float32, hz float64, high bool) []float32 {
	a := float32(1 - math.Exp(-2*math.Pi*hz/rate))
	out := make([]float32, len(x))
	y := float32(0)
	for i, v := range x {
		y += a * (v - y)
		if high {
			out[i] = v - y
		} else {
			out[i] = y
		}
	}
	return out
}
