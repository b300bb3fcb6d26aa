package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"agremens/realize"
	"agremens/realize/codec/smf"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/synth"
	"agremens/synth/tuning"
)

// rate of wav files, in frames a second.
const rate = 48000

func writeMIDI(w written) ([]byte, error) {
	return smf.Encode(excerpt(w), w.reading.Passage.Title), nil
}

func writeWAV(w written) ([]byte, error) {
	temperament, _ := tuning.Named(w.request.tuning)
	p := excerpt(w)
	// A small note may begin before the first beat.
	lead := 0.0
	for _, n := range p.Notes {
		lead = max(lead, -p.Tempo.Seconds(n.Onset))
	}
	frame := func(at music.Frac) int64 {
		return int64(math.Round((lead + p.Tempo.Seconds(at)) * rate))
	}
	seq := synth.Sequence{Length: frame(p.End)}
	for _, n := range p.Notes {
		seq.Notes = append(seq.Notes, synth.Note{Start: frame(n.Onset), End: frame(n.End()), Key: n.Pitch.MIDI(), Strength: n.Strength})
	}
	samples := synth.RenderSequence(rate, synth.Instrument(w.request.instrument), temperament.At(w.request.pitch), seq)
	return synth.WAV(rate, samples), nil
}

// excerpt returns what sounds in the measures asked for, moved to begin at 0.
func excerpt(w written) *perf.Performance {
	whole := realize.Perform(w.reading, realize.PerformOptions{})
	measures := w.reading.Passage.Measures[w.from:w.to]
	if len(measures) == 0 {
		return whole
	}
	start, end := measures[0].Onset, measures[len(measures)-1].End()
	part := &perf.Performance{End: end.Sub(start)}
	part.Tempo.Changes = []perf.TempoChange{{QuartersPerMinute: whole.Tempo.At(start)}}
	for _, c := range whole.Tempo.Changes {
		if start.Less(c.Onset) && c.Onset.Less(end) {
			part.Tempo.Changes = append(part.Tempo.Changes, perf.TempoChange{Onset: c.Onset.Sub(start), QuartersPerMinute: c.QuartersPerMinute})
		}
	}
	// What a note sounds for decides where it belongs: a small note before
	// the first beat is part of its principal.
	inside := func(n perf.Note) bool {
		if ref, ok := w.reading.Passage.Find(n.From); ok {
			m := w.reading.Passage.Chords[ref.Chord].Measure
			return m >= w.from && m < w.to
		}
		return !n.Onset.Less(start) && n.Onset.Less(end)
	}
	for _, n := range whole.Notes {
		if inside(n) {
			n.Onset = n.Onset.Sub(start)
			part.Notes = append(part.Notes, n)
		}
	}
	for _, b := range whole.Beats {
		if !b.Onset.Less(start) && b.Onset.Less(end) {
			b.Onset = b.Onset.Sub(start)
			part.Beats = append(part.Beats, b)
		}
	}
	return part
}

// checkSound refuses sounds that are not there.
func (q request) checkSound() error {
	instruments := each(synth.Instruments(), func(i synth.InstrumentInfo) string { return string(i.Key) })
	temperaments := each(tuning.All(), func(t tuning.Tuning) string { return t.Name })
	switch {
	case !slices.Contains(instruments, q.instrument):
		return wrongUse{fmt.Sprintf("-instrument %s is not one of %s", q.instrument, strings.Join(instruments, ", "))}
	case !slices.Contains(temperaments, q.tuning):
		return wrongUse{fmt.Sprintf("-tuning %s is not one of %s", q.tuning, strings.Join(temperaments, ", "))}
	}
	return nil
}
