package synth

import "math"

// Grand is how a modern piano's strings sound, as tables over the keyboard: for
// every sixth key from C2 to C7 the levels and decays of partials and of the
// case. What lies between is interpolated; beyond the ends the last stands.
//
// Partials are two modes each, as strings a hair apart first move together and
// die fast, then against each other and die slowly.
type Grand struct {
	Level [Registers][Partials]int8 // half dB, before the note is brought to its level
	Touch [Registers][Partials]int8 // half dB a unit of strength above plain
	Fall  [Registers][Partials]int8 // eighths of an octave above 1 dB a second
	After [Registers][Partials]int8 // half dB: the slow mode beside the fast
	Late  [Registers][Partials]int8 // as Fall, of the slow mode
	// The case and soundboard answering the blow: level beside the whole of the
	// strings in half dB.
	Knock [Registers][Knocks]int8
}

// Sizes of a Grand's tables.
const (
	Registers = 11
	Partials  = 23
	Knocks    = 8
	lowestKey = 36 // of the first register
	apartKeys = 6
)

// GrandPartials are the partials the tables speak of.
var GrandPartials = [Partials]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 18, 20, 24, 28, 32, 40, 48, 64, 80}

// GrandKnocks are the frequencies of the case in Hz.
var GrandKnocks = [Knocks]float64{68, 97, 139, 190, 255, 330, 425, 540}

// KnockFall is how fast the case falls silent, in dB a second.
const KnockFall = 200.0

// Fallen turns a table's decay into dB a second.
func Fallen(x float64) float64 { return math.Exp2(x / 8) }

// inTable is a place between two registers and two columns.
type inTable struct {
	row, column int
	down, right float64 // shares of the next row and column
}

func (p inTable) row1() int { return min(p.row+1, Registers-1) }

// in reads a table of partials at a place.
func (p inTable) in(t *[Registers][Partials]int8) float64 {
	at := func(row int) float64 {
		a, b := float64(t[row][p.column]), float64(t[row][min(p.column+1, Partials-1)])
		return a + (b-a)*p.right
	}
	a := at(p.row)
	return a + (at(p.row1())-a)*p.down
}

// register is where a key stands between the tables' rows.
func register(key int) inTable {
	x := min(max(float64(key-lowestKey)/apartKeys, 0), Registers-1)
	row := int(x)
	return inTable{row: row, down: x - float64(row)}
}

// faintest is how far below the loudest a partial is left out, in half dB.
const faintest = -118

func (g *Grand) build(v *voice, s stroke) {
	const stretch, spread = 3.2e-4, 0.45 // inharmonicity of c', cents between the strings
	stiff := stretch * stiffness(s.key)
	low, high := strayed(s.hz, -spread/2)/s.hz, strayed(s.hz, spread/2)/s.hz
	touch := s.strength - plain
	place := register(s.key)
	var levels [128]float64
	loudest, last := math.Inf(-1), 0
	for n := 1; n < len(levels); n++ {
		if hz := partialHz(s.hz, float64(n), stiff); hz > 11500 || n > 80 {
			break
		}
		p := place.at(n)
		levels[n] = p.in(&g.Level) + touch*p.in(&g.Touch)
		loudest, last = max(loudest, levels[n]), n
	}
	for n := 1; n <= last; n++ {
		if levels[n] < loudest+faintest {
			continue
		}
		p := place.at(n)
		hz := partialHz(s.hz, float64(n), stiff)
		amp, phase := decibels(levels[n]/2), bridgePhase(hz)
		v.add(hz*low, amp, 60/Fallen(p.in(&g.Fall)), phase)
		if after := p.in(&g.After) / 2; levels[n]+2*after > loudest+faintest {
			v.add(hz*high, amp*decibels(after), 60/Fallen(p.in(&g.Late)), phase)
		}
	}
	level := 0.088 * touchLevel(s.strength)
	v.scale(level)
	for i, hz := range GrandKnocks {
		a, b := float64(g.Knock[place.row][i]), float64(g.Knock[place.row1()][i])
		v.add(hz, level*decibels((a+(b-a)*place.down)/2), 60/KnockFall, 0)
	}
	v.rise = int(v.rate * 0.0018)
	v.noise[0].strike(burst{level: 0.005 * s.strength, hz: 380, breadth: 500, t60: 0.05}, v.rate)
	v.damp = damping{
		seconds: 0.33 * math.Exp2(-float64(s.key-60)/80), bright: 1000,
		noise: burst{level: 0.002, hz: 300, breadth: 350, t60: 0.06},
	}
	if s.key > 89 { // the highest strings have no dampers
		v.damp = damping{seconds: 3, bright: 20000}
	}
}

// at is the place of a partial in the tables.
func (p inTable) at(n int) inTable {
	i := 0
	for i < Partials-2 && GrandPartials[i+1] <= float64(n) {
		i++
	}
	from, to := GrandPartials[i], GrandPartials[i+1]
	p.column, p.right = i, (float64(n)-from)/(to-from)
	return p
}

// partialHz is the nth partial of a stiff string whose first is at hz.
func partialHz(hz, n, stiff float64) float64 {
	return n * hz * math.Sqrt((1+stiff*n*n)/(1+stiff))
}

// RenderGrand renders one key of a grand as an engine would, held for so many
// frames, in the engine's room.
func RenderGrand(rate int, g *Grand, key int, strength float64, frames int64) []float32 {
	e := New(rate)
	e.instrument = &voicing{key: "piano", touch: true, room: 0.10, level: 1, build: g.build}
	e.Play(Sequence{Notes: []Note{{End: frames, Key: key, Strength: float32(strength)}}, Length: frames})
	out := make([]float32, 2*frames)
	e.Render(out)
	return out
}
