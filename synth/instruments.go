package synth

// stroke is what an instrument is told of a note.
type stroke struct {
	hz       float64
	key      int
	strength float64 // 0 to 1
}

// voicing is an instrument: how it fills a voice with modes, and how much of
// it goes into the room.
type voicing struct {
	key   Instrument
	name  string
	click bool // sounds clicks instead of voices
	touch bool // answers to strength
	room  float64
	// level brings the instruments to one loudness: within 1 dB (ITU-R BS.1770) at
	// a passage for two hands, and at chords (cmd/check/tone).
	level float64
	build func(v *voice, s stroke)
}

// voicings lists the instruments in the order of menus.
//
//words:texts name
var voicings = [...]voicing{
	{key: "harpsichord", name: "Harpsichord, two registers", room: 0.10, level: 0.925, build: buildHarpsichord},
	{key: "harpsichord-single", name: "Harpsichord, one register", room: 0.10, level: 1.43, build: buildHarpsichordSingle},
	{key: "harpsichord-full", name: "Harpsichord with four-foot", room: 0.10, level: 0.717, build: buildHarpsichordFull},
	{key: "clavichord", name: "Clavichord", touch: true, room: 0.07, level: 1.27, build: buildClavichord},
	{key: "fortepiano", name: "Early fortepiano", touch: true, room: 0.09, level: 0.833, build: buildFortepiano},
	{key: "piano", name: "Modern piano", touch: true, room: 0.10, level: 1.226, build: grand.build},
	{key: "organ", name: "Chamber organ", room: 0.16, level: 1.06, build: buildOrgan},
	{key: "click", name: "Rhythm alone (clicks)", click: true},
}

// InstrumentInfo names an instrument for menus.
type InstrumentInfo struct {
	Key  Instrument
	Name string
	// Touch tells whether notes of different Strength differ.
	Touch bool
}

// Instruments lists what there is.
func Instruments() []InstrumentInfo {
	out := make([]InstrumentInfo, len(voicings))
	for i, v := range voicings {
		out[i] = InstrumentInfo{v.key, v.name, v.touch}
	}
	return out
}

func voicingOf(i Instrument) (*voicing, bool) {
	for j := range voicings {
		if voicings[j].key == i {
			return &voicings[j], true
		}
	}
	return nil, false
}
