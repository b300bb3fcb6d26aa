package tone

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// midiFile writes the keys as a MIDI file of one track, 1,000 ticks a second.
func midiFile(s Source, notes []Struck, length float64) []byte {
	type event struct {
		at    int
		bytes []byte
	}
	events := []event{
		{0, []byte{0xFF, 0x51, 3, 0x0F, 0x42, 0x40}}, // a quarter a second
		{0, []byte{0xB0, 0, byte(s.bank)}},
		{0, []byte{0xC0, byte(s.program)}},
	}
	for _, n := range notes {
		events = append(events,
			event{int(n.From * 1000), []byte{0x90, byte(n.Key), byte(n.Velocity)}},
			event{int(n.To * 1000), []byte{0x80, byte(n.Key), 0}})
	}
	events = append(events, event{int(length * 1000), []byte{0xFF, 0x2F, 0}})
	slices.SortStableFunc(events, func(a, b event) int { return cmp.Compare(a.at, b.at) })
	var track []byte
	now := 0
	for _, e := range events {
		track = append(append(track, variable(e.at-now)...), e.bytes...)
		now = e.at
	}
	out := append([]byte("MThd"), 0, 0, 0, 6, 0, 0, 0, 1, 1000>>8, 1000&255)
	out = binary.BigEndian.AppendUint32(append(out, "MTrk"...), uint32(len(track)))
	return append(out, track...)
}

// variable is a number in MIDI's variable length.
func variable(n int) []byte {
	out := []byte{byte(n & 127)}
	for n >>= 7; n > 0; n >>= 7 {
		out = append([]byte{byte(n&127 | 128)}, out...)
	}
	return out
}
