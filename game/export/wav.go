package export

import (
	"math"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/synth"
)

// Rate of wav files, in frames a second.
const Rate = 48000

// longest is what one file may sound, in seconds; parts a second of WAV.
const longest = 3600

// clock gives frames to onsets.
type clock struct {
	tempo perf.TempoMap
	lead  float64 // seconds
}

func (c clock) frame(at music.Frac) int64 {
	return int64(math.Round((c.lead + c.tempo.Seconds(at)) * Rate))
}

// WAV renders sound piece by piece: part is called with a tenth of a second of
// 16-bit samples at a time, so that a caller can hand them on and do other
// things, and stops the work by returning false. The header that belongs in
// front of all parts is returned in the end, when the length is known.
func WAV(r *realize.Reading, o Options, part func(samples []byte) bool) (header []byte, err error) {
	o, err = o.check(r.Passage)
	if err != nil {
		return nil, err
	}
	temperament, err := o.temperament()
	if err != nil {
		return nil, err
	}
	seq := o.sequence(Performance(r, o))
	if seq.Length > longest*Rate {
		return nil, ErrTooLong
	}
	if len(seq.Notes) == 0 {
		return nil, ErrSilent
	}
	engine := synth.New(Rate)
	if engine.SetInstrument(o.Instrument) != nil {
		return nil, ErrSound
	}
	engine.SetTuning(temperament)
	samples := 0
	synth.RenderParts(engine, seq, func(rendered []float32) bool {
		samples += len(rendered)
		return part(synth.PCM(nil, rendered))
	})
	return synth.WAVHeader(Rate, samples), nil
}

func wholeWAV(r *realize.Reading, o Options) ([]byte, error) {
	var body []byte
	header, err := WAV(r, o, func(samples []byte) bool {
		body = append(body, samples...)
		return true
	})
	if err != nil {
		return nil, err
	}
	return append(header, body...), nil
}
