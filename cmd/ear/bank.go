package main

import (
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
)

// bank is an instrument's single notes.
type bank struct {
	audio []byte
	notes map[int][]sample // by MIDI pitch, the softest first
	keys  []int
}

type sample struct {
	MIDI  int     `json:"midi"`
	Vel   int     `json:"vel"`
	Start int     `json:"start"`
	Len   int     `json:"len"`
	On    float64 `json:"on"`
}

func readBank(folder string) (*bank, error) {
	text, err := os.ReadFile(filepath.Join(folder, "index.json"))
	if err != nil {
		return nil, err
	}
	var all []sample
	if err := json.Unmarshal(text, &all); err != nil {
		return nil, err
	}
	b := &bank{notes: map[int][]sample{}}
	if b.audio, err = os.ReadFile(filepath.Join(folder, "audio.i16")); err != nil {
		return nil, err
	}
	for _, s := range all {
		b.notes[s.MIDI] = append(b.notes[s.MIDI], s)
	}
	for k, v := range b.notes {
		b.keys = append(b.keys, k)
		slices.SortFunc(v, func(x, y sample) int { return x.Vel - y.Vel })
	}
	slices.Sort(b.keys)
	return b, nil
}

// note returns a pitch at a strength for so many seconds, resampled from the
// nearest that was recorded, and the sample at which it sounds.
func (b *bank) note(midi, vel int, cents, seconds float64) (x []float32, on float64) {
	near := b.keys[0]
	for _, k := range b.keys {
		if abs(k-midi) < abs(near-midi) {
			near = k
		}
	}
	layers := b.notes[near]
	s := layers[len(layers)-1]
	for _, l := range layers {
		if l.Vel >= vel {
			s = l
			break
		}
	}
	step := math.Exp2((float64(midi-near) + cents/100) / 12)
	gain := float32(math.Pow(10, float64(vel-s.Vel)*0.25/20))
	n := min(int(float64(s.Len-4)/step), int(seconds*48000+s.On/step))
	x = make([]float32, max(0, n))
	at := func(i int) float32 {
		if i < 0 || i >= s.Len {
			return 0
		}
		return float32(int16(binary.LittleEndian.Uint16(b.audio[2*(s.Start+i):]))) / 32768
	}
	for i := range x {
		p := float64(i) * step
		k := int(p)
		f := float32(p - float64(k))
		p0, p1, p2, p3 := at(k-1), at(k), at(k+1), at(k+2)
		x[i] = gain * (p1 + 0.5*f*(p2-p0+f*(2*p0-5*p1+4*p2-p3+f*(3*(p1-p2)+p3-p0))))
	}
	return x, s.On / step
}

func abs(x int) int { return max(x, -x) }
