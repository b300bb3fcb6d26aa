package main

import (
	"fmt"
	"slices"
	"strings"

	"agremens/game/export"
	"agremens/realize/score"
	"agremens/synth"
	"agremens/synth/tuning"
)

// exported returns the writer of a format of the export package.
func exported(format string) writer {
	return func(w written) ([]byte, error) {
		q := w.request
		o := export.Options{
			From: w.from, To: w.to, Percent: q.percent, Played: true, Shaped: q.ornaments == "performed",
			Instrument: synth.Instrument(q.instrument), Tuning: q.tuning, Pitch: q.pitch,
		}
		if q.repeats {
			o.Road = score.RoadOptions{Repeats: true, Jumps: true}
		}
		return export.Write(format, w.reading, o)
	}
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
