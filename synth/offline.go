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
	var out []float32
	RenderParts(e, seq, func(part []float32) bool {
		out = append(out, part...)
		return true
	})
	return out
}

// RenderParts plays a sequence once on a fresh engine, as RenderSequence does,
// and hands it on in parts of a tenth of a second. What part is given is used again; it
// stops the work by returning false.
func RenderParts(e *Engine, seq Sequence, part func([]float32) bool) {
	seq.Loop = false
	length := seq.Length
	for _, n := range seq.Notes {
		length = max(length, n.End)
	}
	e.Play(seq)
	buffer := make([]float32, 2*(e.rate/10))
	frames := int64(len(buffer) / 2)
	for left := length; left > 0; left -= frames {
		now := buffer[:2*min(left, frames)]
		e.Render(now)
		if !part(now) {
			return
		}
	}
	for range tailSeconds * 10 {
		if !e.sounding() {
			break
		}
		e.Render(buffer)
		if !part(buffer) {
			return
		}
	}
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
