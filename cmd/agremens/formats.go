package main

import (
	"maps"
	"slices"

	"agremens/game/export"
	"agremens/realize"
	"agremens/realize/codec"
)

// written is what a format writes: the reading, the file it comes from, and
// the measures asked for.
type written struct {
	reading  *realize.Reading
	opened   *codec.Score
	from, to int // indexes of measures, half-open
	request  request
}

// ornaments returns the ornaments of the measures asked for.
func (w written) ornaments() []realize.Ornament {
	var in []realize.Ornament
	for _, o := range w.reading.Ornaments {
		if o.Measure >= w.from && o.Measure < w.to {
			in = append(in, o)
		}
	}
	return in
}

// writer turns a reading into the bytes of a format.
type writer func(written) ([]byte, error)

var formats = func() map[string]writer {
	all := map[string]writer{"json": writeJSON, "text": writeText}
	for _, f := range export.Formats() {
		all[f.Key] = exported(f.Key)
	}
	return all
}()

// formatNames returns the formats besides text, for messages.
func formatNames() []string {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(formats)), func(f string) bool { return f == "text" })
}
