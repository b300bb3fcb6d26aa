package hear_test

import (
	"math"
	"math/rand/v2"

	"agremens/realize/hear"
	"agremens/realize/perf"
	"agremens/synth"
	"agremens/synth/tuning"
)

// The takes of these tests are played by the program's own instruments: two
// bars with a trill on the third quarter, 72 quarters a minute, by a player
// whose every note is a few milliseconds off. The truth is what was asked of
// the synthesis.

const (
	quarter = 60.0 / 72
	leadIn  = 0.6 // s of silence
)

// written are the two bars.
func written() []hear.Note {
	var all []hear.Note
	add := func(id string, key int, at float64, hand perf.Hand, ornament string) {
		all = append(all, hear.Note{ID: id, Key: key, At: at, Hand: hand, Ornament: ornament})
	}
	for i, k := range []int{72, 76, 0, 76, 74, 72, 71, 72} {
		if k > 0 {
			add("r"+string(rune('0'+i)), k, float64(i), perf.Right, "")
			continue
		}
		for j := range 6 {
			add("t"+string(rune('1'+j)), 79-2*(j%2), 2+float64(j)/6, perf.Right, "o1")
		}
	}
	for i, keys := range [][]int{{48}, {52}, {53}, {55}, {43, 55}, {48}, {43, 55}, {48}} {
		for j, k := range keys {
			add("l"+string(rune('0'+i))+string(rune('a'+j)), k, float64(i), perf.Left, "")
		}
	}
	return all
}

// played is one note of a take.
type played struct {
	id       string // "" where nothing of the kind is written
	key      int
	at       float64 // s from the first sample
	strength float32
}

// take is what was played.
type take struct {
	notes []played
	end   float64
}

// play is a faultless take; the seed chooses where its few milliseconds go.
func play(seed uint64) *take {
	r := rand.New(rand.NewPCG(seed, 24))
	t := &take{}
	for _, n := range written() {
		at := leadIn + n.At*quarter + r.NormFloat64()*0.006
		strength := float32(0.5 + 0.2*r.Float64())
		if n.Hand == perf.Left {
			strength -= 0.1
		}
		t.notes = append(t.notes, played{n.ID, n.Key, at, strength})
	}
	t.end = leadIn + 8*quarter + 0.5
	return t
}

func (t *take) note(id string) *played {
	for i := range t.notes {
		if t.notes[i].id == id {
			return &t.notes[i]
		}
	}
	panic("there is no note " + id)
}

func (t *take) remove(id string) {
	n := t.note(id)
	*n = t.notes[len(t.notes)-1]
	t.notes = t.notes[:len(t.notes)-1]
}

var trill = []string{"t1", "t2", "t3", "t4", "t5", "t6"}

// sound is a take as it is recorded.
type sound struct {
	instrument string
	rate       int
	cents      float64
	noise      float64 // dB below the playing, 0 none
	gain       float64 // 0 is 1
}

func (s sound) of(t *take) []float32 {
	if s.instrument == "" {
		s.instrument = "piano"
	}
	if s.rate == 0 {
		s.rate = 48000
	}
	frames := func(at float64) int64 { return int64(math.Round(at * float64(s.rate))) }
	var q synth.Sequence
	for _, n := range t.notes {
		q.Notes = append(q.Notes, synth.Note{Start: frames(n.at), End: frames(n.at + 0.35), Key: n.key, Cents: s.cents, Strength: n.strength})
	}
	q.Length = frames(t.end)
	equal, _ := tuning.Named("equal")
	both := synth.RenderSequence(s.rate, synth.Instrument(s.instrument), equal, q)
	x := make([]float32, min(len(both)/2, int(q.Length)))
	power := 0.0
	for i := range x {
		x[i] = (both[2*i] + both[2*i+1]) / 2
		power += float64(x[i]) * float64(x[i])
	}
	if s.noise > 0 {
		r := rand.New(rand.NewPCG(1, 2))
		level, low := math.Sqrt(power/float64(len(x)))*math.Pow(10, -s.noise/20), 0.0
		for i := range x {
			low += 0.1 * (r.NormFloat64() - low)
			x[i] += float32(level * low * 4)
		}
	}
	if s.gain != 0 {
		for i := range x {
			x[i] *= float32(s.gain)
		}
	}
	return x
}

// listen hears a take whole.
func listen(x []float32, rate int, e hear.Expected) hear.Report {
	return hear.Whole(x, e, hear.Options{Rate: float64(rate)})
}
