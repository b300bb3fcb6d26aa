package synth_test

import (
	"encoding/binary"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/synth"
	"agremens/synth/tuning"
)

func TestRenderSequence(t *testing.T) {
	seq := synth.Sequence{
		Notes:  []synth.Note{{Start: 0, End: rate, Key: 60, Strength: 0.6}, {Start: rate / 2, End: rate, Key: 64, Strength: 0.6}},
		Length: rate, Loop: true, LoopStart: 100,
	}
	for _, inst := range synth.Instruments() {
		x := synth.RenderSequence(rate, inst.Key, tuning.Tuning{}, seq)
		assert.GreaterOrEqual(t, len(x), 2*rate, "%s: its length", inst.Key)
		assert.Less(t, len(x), 2*9*rate, "%s: and a tail that ends", inst.Key)
		assert.Zero(t, x[len(x)-1], "%s: in silence", inst.Key)
		assert.Equal(t, x, synth.RenderSequence(rate, inst.Key, tuning.Tuning{}, seq), "%s: the same every time", inst.Key)
	}
	assert.Equal(t, synth.RenderSequence(rate, synth.Instruments()[0].Key, tuning.Tuning{}, seq),
		synth.RenderSequence(rate, "kazoo", tuning.Tuning{}, seq), "unknown: as the first")
}

// Offsets as laid down for RIFF WAVE with a PCM format chunk.
func TestWAV(t *testing.T) {
	file := synth.WAV(44100, []float32{0, 1, -1, 0.5, 7, -7})
	le := binary.LittleEndian
	require.Len(t, file, 44+12)
	assert.Equal(t, "RIFF", string(file[:4]))
	assert.Equal(t, uint32(len(file)-8), le.Uint32(file[4:]))
	assert.Equal(t, "WAVEfmt ", string(file[8:16]))
	assert.Equal(t, uint16(1), le.Uint16(file[20:]), "PCM")
	assert.Equal(t, uint16(2), le.Uint16(file[22:]), "stereo")
	assert.Equal(t, uint32(44100), le.Uint32(file[24:]))
	assert.Equal(t, uint32(44100*4), le.Uint32(file[28:]))
	assert.Equal(t, "data", string(file[36:40]))
	assert.Equal(t, uint32(12), le.Uint32(file[40:]))
	var got []int16
	for i := 44; i < len(file); i += 2 {
		got = append(got, int16(le.Uint16(file[i:])))
	}
	assert.Equal(t, []int16{0, math.MaxInt16, -math.MaxInt16, 16384, math.MaxInt16, -math.MaxInt16}, got)
}
