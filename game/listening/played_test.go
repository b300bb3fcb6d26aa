package listening_test

import (
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
)

const rate = 48000

// take is how a passage is played: our own synthesis, no recording.
type take struct {
	slower float64 // the tempo, as so many times the length; 0 is 1
	late   float64 // s by which all notes of the ornaments are late
	noise  float64 // largest sample of noise beside it
	only   round.Hands
}

// session is a round at the piano that is listened to.
func session(t testing.TB, passage, bars string) *practice.Session {
	t.Helper()
	for _, e := range assets.Passages() {
		if e.ID != passage {
			continue
		}
		s, err := codec.Open([]byte(e.ABC), "", nil)
		require.NoError(t, err)
		d := desk.New(e.ID, s.Passage, realize.Taste{})
		require.NoError(t, d.SetBars(bars))
		m := practice.On(d)
		m.Heard = true
		began, err := practice.Start(practice.Piano, m)
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
	var seq synth.Sequence
	wants := p.EveryKey(p.Wants)
	for _, w := range wants {
		if !k.only.Has(w.Hand) && k.only != round.NoHand {
			continue
		}
		at := w.At
		if w.Ornament != "" {
			at += 1000 * k.late
		}
		start := int64((at*slower/1000 + 1) * rate)
		seq.Notes = append(seq.Notes, synth.Note{Start: start, End: start + rate/4, Key: w.Key, Strength: 0.6})
		seq.Length = max(seq.Length, start+2*rate)
	}
	engine := synth.New(rate)
	require.NoError(t, engine.SetInstrument("piano"))
	var mono []float32
	random := uint32(1)
	synth.RenderParts(engine, seq, func(stereo []float32) bool {
		for ; len(stereo) >= 2; stereo = stereo[2:] {
			random = random*1664525 + 1013904223 // Numerical Recipes' generator, from memory
			noise := (float64(random>>8)/(1<<23) - 1) * k.noise
			mono = append(mono, (stereo[0]+stereo[1])/2+float32(noise))
		}
		return true
	})
	return mono
}

// hear listens to samples as the page does, in blocks.
func hear(p *round.Plan, samples []float32) (r ear.Report, ended bool) {
	task, _ := listening.Task(p)
	e := ear.New(rate, task.Pack())
	for ; len(samples) > 0; samples = samples[min(4096, len(samples)):] {
		for _, n := range e.Feed(samples[:min(4096, len(samples))]) {
			ended = ended || n < 0
		}
	}
	return ear.Unpack(e.Finish()), ended
}
