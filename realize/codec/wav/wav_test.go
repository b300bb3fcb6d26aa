package wav_test

import (
	"bytes"
	"encoding/binary"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec/wav"
	"agremens/synth"
)

// file is a WAVE file as the specification lays it down (from memory).
func file(coding, channels, rate, bits int, sound []byte) []byte {
	le := binary.LittleEndian
	out := append([]byte("RIFF\x00\x00\x00\x00WAVE"), "fmt \x10\x00\x00\x00"...)
	out = le.AppendUint16(out, uint16(coding))
	out = le.AppendUint16(out, uint16(channels))
	out = le.AppendUint32(out, uint32(rate))
	out = le.AppendUint32(out, uint32(rate*channels*bits/8))
	out = le.AppendUint16(out, uint16(channels*bits/8))
	out = le.AppendUint16(out, uint16(bits))
	out = append(out, "junk\x03\x00\x00\x00abc\x00data"...) // an odd chunk and its pad
	out = le.AppendUint32(out, uint32(len(sound)))
	return append(out, sound...)
}

func floats(x ...float32) []byte {
	var out []byte
	for _, v := range x {
		out = binary.LittleEndian.AppendUint32(out, math.Float32bits(v))
	}
	return out
}

func TestRead(t *testing.T) {
	for _, c := range []struct {
		name                         string
		coding, channels, rate, bits int
		sound                        []byte
		want                         []float32
	}{
		{"16 bits", 1, 1, 48000, 16, []byte{0, 0x40, 0, 0x80}, []float32{0.5, -1}},
		{"24 bits", 1, 1, 44100, 24, []byte{0, 0, 0x40, 0, 0, 0x80}, []float32{0.5, -1}},
		{"32 bits", 1, 1, 8000, 32, []byte{0, 0, 0, 0x40, 0, 0, 0, 0x80}, []float32{0.5, -1}},
		{"float", 3, 1, 192000, 32, floats(0.5, -1), []float32{0.5, -1}},
		{"two channels are mixed", 3, 2, 48000, 32, floats(0.5, 0.25, -1, 1), []float32{0.375, 0}},
		{"cut in the middle of a frame", 1, 2, 48000, 16, []byte{0, 0x40, 0, 0x40, 0, 0x40, 0}, []float32{0.5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := wav.New(bytes.NewReader(file(c.coding, c.channels, c.rate, c.bits, c.sound)))
			require.NoError(t, err)
			assert.Equal(t, c.rate, r.Rate)
			got := make([]float32, 10)
			n := r.Read(got)
			assert.Equal(t, c.want, got[:n])
			assert.Zero(t, r.Read(got), "after the end")
		})
	}
}

func TestReadsWhatTheProgramWrites(t *testing.T) {
	r, err := wav.New(bytes.NewReader(synth.WAV(44100, []float32{0.5, 0.5, -0.25, -0.25})))
	require.NoError(t, err)
	got := make([]float32, 4)
	require.Equal(t, 2, r.Read(got))
	assert.InDeltaSlice(t, []float32{0.5, -0.25}, got[:2], 1e-4)
}

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		name string
		data []byte
		want error
	}{
		{"empty", nil, wav.ErrNoWAV},
		{"other", []byte("RIFF1234AVI LIST"), wav.ErrNoWAV},
		{"no sound", file(1, 1, 48000, 16, nil)[:40], wav.ErrNoSound},
		{"compressed", file(85, 1, 48000, 16, []byte{0, 0}), wav.ErrCoding},
		{"8 bits", file(1, 1, 48000, 8, []byte{0, 0}), wav.ErrCoding},
		{"no channels", file(1, 0, 48000, 16, []byte{0, 0}), wav.ErrCoding},
		{"too slow", file(1, 1, wav.LowestRate-1, 16, []byte{0, 0}), wav.ErrCoding},
		{"too fast", file(1, 1, wav.HighestRate+1, 16, []byte{0, 0}), wav.ErrCoding},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := wav.New(bytes.NewReader(c.data))
			assert.ErrorIs(t, err, c.want)
		})
	}
}

func FuzzRead(f *testing.F) {
	f.Add(file(1, 2, 48000, 24, []byte{1, 2, 3, 4, 5, 6}))
	f.Add(file(3, 1, 44100, 32, floats(1, 2)))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := wav.New(bytes.NewReader(data))
		if err != nil {
			return
		}
		block := make([]float32, 64)
		total := 0
		for n := r.Read(block); n > 0; n = r.Read(block) {
			total += n
		}
		assert.LessOrEqual(t, total, len(data), "more samples than bytes")
	})
}
