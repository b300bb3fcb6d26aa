package synth

import (
	"agremens/synth/tuning"
)

// tailSeconds is the longest a rendered sequence rings on.
const tailSeconds = 8

// RenderSequence plays a sequence once, without looping, and returns
// interleaved stereo: Length frames and the tail until silence, eight seconds
// at most. An unknown instrument sounds as the first of Instruments.
func RenderSequence(rate int, inst Instrument, t tuning.Tuning, seq Sequence) []float32 {
	e := New(rate)
	if e.SetInstrument(inst) != nil {
		_ = e.SetInstrument(voicings[0].key)
	}
	e.SetTuning(t)
	seq.Loop = false
	length := seq.Length
	for _, n := range seq.Notes {
		length = max(length, n.End)
	}
	e.Play(seq)
	out := make([]float32, 2*length)
	e.Render(out)
	chunk := make([]float32, 2*rate/10)
	for range tailSeconds * 10 {
		if !e.sounding() {
			break
		}
		e.Render(chunk)
		out = append(out, chunk...)
	}
	return out
}

// sounding reports whether anything still rings.
func (e *Engine) sounding() bool {
	for i := range e.voices {
		if e.voices[i].active {
			return true
		}
	}
	for i := range e.ticks {
		if e.ticks[i].level > 0 {
			return true
		}
	}
	return e.room.active
}
