package listening_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/listening"
	"agremens/game/listening/ear"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/synth"
	"agremens/synth/tuning"
)

const rate = 48000

// take is how a passage is played: our own synthesis, no recording.
type take struct {
	slower float64 // the tempo, as so many times the length; 0 is 1
	late   float64 // s by which all notes of the ornaments are late
	noise  float64 // largest sample of noise beside it
	only   round.Hands
	beside *beside // what the page sounds meanwhile, nil nothing
	skip   int     // so many-th note that is left out, counted from 1
	wrong  int     // so many-th note that is struck a key too high
	uneven float64 // s by which every other note of an ornament comes too late
	silent bool    // nothing is played
	cents  float64 // how much sharper than the program the instrument is
	room   bool    // walls give it back
}

// beside is what a loudspeaker does to what it is sent.
type beside struct {
	late, loud float64 // s, and as a share; loud 0: headphones
}

// heard is how much later than it was sent a player hears it, s.
func (b *beside) heard() float64 {
	if b == nil || b.loud == 0 {
		return 0
	}
	return b.late
}

// session is a round at the piano that is listened to, while nothing sounds.
func session(t testing.TB, passage, bars string) *practice.Session {
	t.Helper()
	return with(t, passage, bars, practice.Silence)
}

// with is one while the page sounds something.
func with(t testing.TB, passage, bars string, sounds practice.Meanwhile) *practice.Session {
	t.Helper()
	return begun(t, passage, bars, practice.Piano, 100, sounds)
}

// begun is a kind of round that is listened to, at so many per cent of the tempo.
func begun(t testing.TB, passage, bars, kind string, percent float64, sounds practice.Meanwhile) *practice.Session {
	t.Helper()
	for _, e := range assets.Passages() {
		if e.ID != passage {
			continue
		}
		s, err := codec.Open([]byte(e.ABC), "", nil)
		require.NoError(t, err)
		d := desk.New(e.ID, s.Passage, realize.Taste{})
		require.NoError(t, d.SetBars(bars))
		d.SetPercent(percent)
		m := practice.On(d)
		m.Heard, m.Meanwhile = true, sounds
		began, err := practice.Start(kind, m)
		require.NoError(t, err)
		return began
	}
	require.Fail(t, "there is no such passage", passage)
	return nil
}

func plan(t testing.TB, s *practice.Session) *round.Plan {
	t.Helper()
	p, err := s.Plan(rate)
	require.NoError(t, err)
	return p
}

// samples renders a take of a plan, mono, with a second before and after it.
func (k take) samples(t testing.TB, p *round.Plan) []float32 {
	t.Helper()
	slower := k.slower
	if slower == 0 {
		slower = 1
	}
	if k.silent {
		return make([]float32, 6*rate)
	}
	var seq synth.Sequence
	wants := p.EveryKey(p.Wants)
	for i, w := range wants {
		if !k.only.Has(w.Hand) && k.only != round.NoHand || i+1 == k.skip {
			continue
		}
		at, key := w.At, w.Key
		if w.Ornament != "" {
			at += 1000 * k.late
			at += 1000 * k.uneven * float64(w.Index%2)
		}
		if i+1 == k.wrong {
			key++
		}
		start := int64((at*slower/1000 + before + k.beside.heard()) * rate)
		seq.Notes = append(seq.Notes, synth.Note{Start: start, End: start + rate/4, Key: key, Strength: 0.6})
		seq.Length = max(seq.Length, start+2*rate)
	}
	mono := sounded(t, seq, k.cents)
	if k.room {
		for _, wall := range [...]struct{ after, part float64 }{{0.007, 0.3}, {0.017, 0.2}, {0.031, 0.15}} {
			for i := len(mono) - 1; i >= int(wall.after*rate); i-- {
				mono[i] += float32(wall.part) * mono[i-int(wall.after*rate)]
			}
		}
	}
	random := uint32(1)
	for i := range mono {
		random = random*1664525 + 1013904223 // Numerical Recipes' generator, from memory
		mono[i] += float32((float64(random>>8)/(1<<23) - 1) * k.noise)
	}
	if k.beside != nil {
		for i, x := range k.sent(t, p) {
			if j := i + int(k.beside.late*rate); j < len(mono) {
				mono[j] += float32(k.beside.loud) * x
			}
		}
	}
	return mono
}

// before is how long a take is silent before the plan begins, s.
const before = 1

// sent is what the loudspeaker is given meanwhile.
func (k take) sent(t testing.TB, p *round.Plan) []float32 {
	return append(make([]float32, before*rate), sounded(t, p.Sequence, 0)...)
}

// sounded renders a sequence, mono, so many cents sharp.
func sounded(t testing.TB, seq synth.Sequence, cents float64) []float32 {
	engine := synth.New(rate)
	engine.SetTuning(tuning.Tuning{A: 440 * math.Exp2(cents/1200)})
	require.NoError(t, engine.SetInstrument("piano"))
	var mono []float32
	synth.RenderParts(engine, seq, func(stereo []float32) bool {
		for ; len(stereo) >= 2; stereo = stereo[2:] {
			mono = append(mono, (stereo[0]+stereo[1])/2)
		}
		return true
	})
	return mono
}

// hear listens to samples as the page does, in blocks.
func hear(p *round.Plan, samples []float32) (r ear.Report, ended bool) {
	return hearBeside(p, samples, nil)
}

func hearBeside(p *round.Plan, samples, sent []float32) (r ear.Report, ended bool) {
	task, _ := listening.Task(p)
	e := ear.New(rate, task.Pack())
	for len(samples) > 0 {
		n := min(4096, len(samples))
		for _, n := range e.FeedBeside(samples[:n], sent[:min(n, len(sent))]) {
			ended = ended || n == -1
		}
		samples, sent = samples[n:], sent[min(n, len(sent)):]
	}
	return ear.Unpack(e.Finish()), ended
}
