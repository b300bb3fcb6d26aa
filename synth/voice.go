package synth

import "math"

// maxModes is the most modes one note has: those of all its strings or pipes.
const maxModes = 192

// silence is the level at which a mode is given up, -90 dB: the last bit of a
// 16-bit sample.
const silence = 3e-5

// mode is one decaying sinusoid, computed by the recurrence
// x[n] = c·x[n-1] - d·x[n-2], which costs two multiplications a sample and
// holds its frequency exactly.
type mode struct {
	c, d   float64
	x1, x2 float64
	hz     float64
	amp    float64 // at birth, then at release
	radius float64 // decay per frame
	born   int     // age of the voice at amp
	life   int     // age at which it falls silent
}

// damping is how a released note dies: modes reach -60 dB within Seconds,
// those above Bright Hz sooner in proportion. Noise is the level of the
// mechanism's sound.
type damping struct {
	seconds, bright float64
	noise           burst
}

// What every instrument shares: the end of a sequence, and a key struck again
// while its string still rings.
var (
	quickRelease = damping{seconds: 0.12, bright: 4000}
	restrike     = damping{seconds: 0.05, bright: 4000}
)

// voice is one note sounding.
type voice struct {
	active, held bool
	key          int
	end          int64 // engine frame at which the key comes up
	rate         float64
	age          int // frames since the stroke
	modes        [maxModes]mode
	n            int // modes alive, the first n
	rise         int // frames of the opening ramp
	noise        [2]noise
	damp         damping
	gainL, gainR float64
	send         float64
}

// start clears the voice for a new note.
func (v *voice) start(key int, end int64, rate int, seed uint32) {
	v.active, v.held = true, true
	v.key, v.end, v.rate = key, end, float64(rate)
	v.age, v.n = 0, 0
	v.rise = rate / 4000
	v.damp = damping{}
	v.noise = [2]noise{{seed: seed*2654435761 + 1}, {seed: seed*2246822519 + 7}}
	// Low keys stand a little to the left, as they do at the keyboard.
	side := min(max(float64(key-64)/40, -1), 1) * 0.3
	v.gainL, v.gainR = math.Sqrt((1-side)/2), math.Sqrt((1+side)/2)
}

// add gives the voice a mode: frequency in Hz, amplitude, seconds to -60 dB
// (0: sustained) and phase at the stroke in radians. Frequencies too high for
// the rate are left out.
func (v *voice) add(hz, amp, t60, phase float64) {
	if v.n == maxModes || hz > 0.42*v.rate || math.Abs(amp) < silence {
		return
	}
	m := &v.modes[v.n]
	v.n++
	w := 2 * math.Pi * hz / v.rate
	*m = mode{hz: hz, amp: amp, radius: 1}
	if t60 > 0 {
		m.radius = math.Exp(-math.Ln10 * 3 / (t60 * v.rate))
	}
	m.c, m.d = 2*m.radius*math.Cos(w), m.radius*m.radius
	m.x1 = amp / m.radius * math.Sin(phase-w)
	m.x2 = amp / m.d * math.Sin(phase-2*w)
	m.settle()
}

// settle works out when the mode falls silent.
func (m *mode) settle() {
	m.life = math.MaxInt
	if m.radius < 1 {
		m.life = m.born + int(math.Log(silence/math.Abs(m.amp))/math.Log(m.radius)) + 1
	}
}

// scale brings all modes to a common level: their root of summed squares
// becomes level.
func (v *voice) scale(level float64) {
	sum := 0.0
	for i := range v.modes[:v.n] {
		sum += v.modes[i].amp * v.modes[i].amp
	}
	if sum == 0 {
		return
	}
	f := level / math.Sqrt(sum)
	for i := range v.modes[:v.n] {
		m := &v.modes[i]
		m.amp *= f
		m.x1 *= f
		m.x2 *= f
		m.settle()
	}
}

// release lets the note go. A second call only shortens what still rings.
func (v *voice) release(d damping) {
	if v.held {
		v.noise[1].strike(d.noise, v.rate)
	}
	v.held = false
	for i := range v.modes[:v.n] {
		m := &v.modes[i]
		t60 := d.seconds
		if m.hz > d.bright {
			t60 *= d.bright / m.hz
		}
		r := math.Exp(-math.Ln10 * 3 / (t60 * v.rate))
		if r >= m.radius {
			continue
		}
		m.amp *= math.Pow(m.radius, float64(v.age-m.born))
		m.born = v.age
		f := r / m.radius
		m.c *= f
		m.d *= f * f
		m.radius = r
		m.settle()
	}
}

// loudness estimates how much of the note is left, for choosing which to
// give up.
func (v *voice) loudness() float64 {
	sum := 0.0
	for i := range v.modes[:v.n] {
		sum += math.Abs(v.modes[i].x1)
	}
	if v.held {
		sum += 1
	}
	return sum
}

// render overwrites out with the voice's next samples and gives the voice up
// when nothing of it is left.
func (v *voice) render(out []float64) {
	clear(out)
	v.bury()
	i := 0
	for ; i+2 < v.n; i += 3 {
		three(&v.modes[i], &v.modes[i+1], &v.modes[i+2], out)
	}
	for ; i < v.n; i++ {
		one(&v.modes[i], out)
	}
	if v.age < v.rise {
		for j := range out {
			if at := v.age + j; at < v.rise {
				out[j] *= 0.5 - 0.5*math.Cos(math.Pi*float64(at)/float64(v.rise))
			}
		}
	}
	sounding := v.n > 0
	for j := range v.noise {
		sounding = v.noise[j].add(out) || sounding
	}
	v.age += len(out)
	v.active = sounding || v.held
}

// bury drops the modes that have fallen silent.
func (v *voice) bury() {
	for i := 0; i < v.n; {
		if v.modes[i].life <= v.age {
			v.n--
			v.modes[i] = v.modes[v.n]
			continue
		}
		i++
	}
}

// three adds three modes to out: together they keep the processor busy while
// each recurrence waits for its own last value.
func three(a, b, c *mode, out []float64) {
	ac, ad, a1, a2 := a.c, a.d, a.x1, a.x2
	bc, bd, b1, b2 := b.c, b.d, b.x1, b.x2
	cc, cd, c1, c2 := c.c, c.d, c.x1, c.x2
	for len(out) >= 2 {
		a2 = ac*a1 - ad*a2
		b2 = bc*b1 - bd*b2
		c2 = cc*c1 - cd*c2
		out[0] += a2 + b2 + c2
		a1 = ac*a2 - ad*a1
		b1 = bc*b2 - bd*b1
		c1 = cc*c2 - cd*c1
		out[1] += a1 + b1 + c1
		out = out[2:]
	}
	if len(out) == 1 {
		a2, a1 = a1, ac*a1-ad*a2
		b2, b1 = b1, bc*b1-bd*b2
		c2, c1 = c1, cc*c1-cd*c2
		out[0] += a1 + b1 + c1
	}
	a.x1, a.x2, b.x1, b.x2, c.x1, c.x2 = a1, a2, b1, b2, c1, c2
}

// one adds one mode to out.
func one(m *mode, out []float64) {
	x1, x2 := m.x1, m.x2
	for j := range out {
		x1, x2 = m.c*x1-m.d*x2, x1
		out[j] += x1
	}
	m.x1, m.x2 = x1, x2
}
