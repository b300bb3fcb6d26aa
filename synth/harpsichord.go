package synth

import "math"

// A harpsichord with two eight-foot registers and a four-foot. The quills do
// not know how fast the key came down, so strength is not asked.
//
// How long the strings ring, how the plucking place moves from an eighth of the
// string in the bass towards a third in the treble, and how strong partials are,
// is fitted to the two recorded harpsichords there are (cmd/check/tone: 3.9 dB from
// ours to them; fitted to one alone, ours is 4.3 from the other). Figures without
// another source are estimates from memory, set by spectrogram: the front register
// plucks nearer the nut and is more nasal.
var (
	backEight  = quill{place: 0.118, level: 1}
	frontEight = quill{place: 0.093, level: 0.7}
	fourFoot   = quill{place: 0.13, level: 0.42, octave: 1}
)

// quill is one register.
type quill struct {
	place  float64 // plucked share of the string's length at C, key 36
	level  float64
	octave int // above the key's
}

func buildHarpsichord(v *voice, s stroke) { pluck(v, s, 0.072, &backEight, &frontEight) }

func buildHarpsichordSingle(v *voice, s stroke) { pluck(v, s, 0.062, &backEight) }

func buildHarpsichordFull(v *voice, s stroke) {
	pluck(v, s, 0.084, &backEight, &frontEight, &fourFoot)
}

// apart is how many partials of a key's strings are kept apart, and beat;
// above, one stands for all of them.
const apart = 17

func pluck(v *voice, s stroke, level float64, quills ...*quill) {
	for i, q := range quills {
		away := 0.0 // no two strings are ever quite together
		if len(quills) > 1 {
			away = [...]float64{-0.2, 0.3, 0.2}[i]
		}
		pluckedString(v, s, *q, away, i == 0)
	}
	v.scale(level)
	v.rise = int(v.rate * 0.0004)
	knock(v, 0.0226)
	v.noise[0].strike(burst{level: 0.006 * float64(len(quills)), hz: 3100, breadth: 2500, t60: 0.014}, v.rate)
	v.damp = damping{
		seconds: 0.185 * math.Exp2(-float64(s.key-60)/240), bright: 2500,
		// The jack falls back: the quill brushes the string, less of it the
		// thinner the string is, and the cloth stops it.
		noise: burst{level: 0.004 * math.Exp2(min(0, -float64(s.key-60)/9)) * float64(len(quills)), hz: 1500, breadth: 1500, t60: 0.035},
	}
}

// pluckedString adds one register's string; first is the one that also
// stands for the others' highest partials.
func pluckedString(v *voice, s stroke, q quill, cents float64, first bool) {
	key := s.key + 12*q.octave
	f0 := strayed(s.hz, cents) * math.Exp2(float64(q.octave))
	up := float64(key-60) / 12 // octaves
	place := q.place * math.Exp2(float64(key-36)/46)
	loss := math.Ln10 * 3 / (8.2 * math.Exp2(-float64(key-36)/28))
	board := 64 * math.Exp2(0.89*up)
	const stiff = 2.5e-5
	last := 120.0
	if !first {
		last = apart
	}
	for n := 1.0; n <= last; n++ {
		hz := n * f0 * math.Sqrt((1+stiff*n*n)/(1+stiff))
		if hz > 10500 {
			break
		}
		// A quill is no point: no partial is quite missing.
		amp := math.Hypot(math.Sin(n*math.Pi*place), 0.3) / math.Pow(n, 0.8+0.1*up)
		amp *= radiated(hz, board) * math.Exp(-hz/22000)
		v.add(hz, amp*q.level, math.Ln10*3/(loss+0.31e-7*hz*hz), bridgePhase(hz))
	}
}

// strayed moves a string's frequency a few tenths of a cent, less above c', so
// that strings of a key beat slowly everywhere.
func strayed(hz, cents float64) float64 {
	return hz * math.Exp2(cents*min(1, 262/hz)/1200)
}

// radiated is how well a soundboard radiates: little below its first
// resonances, evenly above.
func radiated(hz, first float64) float64 {
	r := hz * hz / (first * first)
	return r / (1 + r)
}

// bridgePhase spreads the partials' phases as stiffness and soundboard do, so
// that a note does not begin with all of them in one spike.
func bridgePhase(hz float64) float64 { return -math.Pi * 0.3e-6 * hz * hz }

// knock is the case and soundboard answering the stroke itself.
func knock(v *voice, level float64) {
	for i, hz := range [...]float64{98, 163, 241, 367, 522} {
		v.add(hz, level/float64(i+2), 0.22-0.03*float64(i), 0)
	}
}
