package main

import (
	"encoding/binary"
	"fmt"

	"agremens/synth"
	"agremens/synth/tuning"
)

// ownBank plays single notes of one of the program's own instruments: their
// instants are exact, and they are clean as a digital piano's are.
func ownBank(instrument string) (*bank, error) {
	equal, ok := tuning.Named("equal")
	if !ok {
		return nil, fmt.Errorf("there is no equal temperament")
	}
	e := synth.New(rate)
	if err := e.SetInstrument(synth.Instrument(instrument)); err != nil {
		return nil, fmt.Errorf("own:%s: %w", instrument, err)
	}
	b := &bank{notes: map[int][]sample{}}
	const held, before = 3.0 * rate, 0.01 * rate
	for key := 28; key <= 103; key += 3 {
		b.keys = append(b.keys, key)
		for _, vel := range []int{40, 76, 120} {
			start := len(b.audio) / 2
			both := synth.RenderSequence(rate, synth.Instrument(instrument), equal, synth.Sequence{
				Notes:  []synth.Note{{Start: before, End: before + held, Key: key, Strength: float32(vel) / 127}},
				Length: before + held,
			})
			n := min(len(both)/2, int(before+held))
			for i := range n {
				v := max(-1, min(1, (both[2*i]+both[2*i+1])/2))
				b.audio = binary.LittleEndian.AppendUint16(b.audio, uint16(int16(v*32767)))
			}
			b.notes[key] = append(b.notes[key], sample{MIDI: key, Vel: vel, Start: start, Len: n, On: before})
		}
	}
	return b, nil
}
