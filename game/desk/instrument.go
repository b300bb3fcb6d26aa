package desk

// instrumentOf returns the key of the instrument that music of a tradition was
// written for: common practice, no source.
func instrumentOf(tradition string) string {
	switch tradition {
	case "vienna", "london", "romantic", "chopin":
		return "fortepiano"
	}
	return "harpsichord"
}

// SetInstrument chooses an instrument by its key (synth.Instruments). From then
// on another tradition no longer changes it.
func (d *Desk) SetInstrument(key string) { d.Instrument, d.InstrumentSet = key, true }
