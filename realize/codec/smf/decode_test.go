package smf_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec/smf"
	"agremens/realize/music"
	"agremens/realize/perf"
)

func TestDecodesWhatItEncodes(t *testing.T) {
	for name, p := range files(t) {
		struck, err := smf.Decode(smf.Encode(p, name))
		require.NoError(t, err, name)
		assert.Equal(t, strikes(p), len(struck), name)
		for i := 1; i < len(struck); i++ {
			assert.LessOrEqual(t, struck[i-1].At, struck[i].At)
		}
	}
}

func TestDecodeTimes(t *testing.T) {
	p := performance(8, note("C4", music.Int(0), music.Int(1), perf.Right), note("D4", music.Int(2), music.F(1, 2), perf.Left))
	struck, err := smf.Decode(smf.Encode(p, ""))
	require.NoError(t, err)
	require.Len(t, struck, 2)
	assert.Equal(t, 60, struck[0].Key)
	assert.InDelta(t, p.Tempo.Seconds(music.Int(2)), struck[1].At, 1e-6)
	assert.InDelta(t, p.Tempo.Seconds(music.F(5, 2)), struck[1].Until, 1e-6)
	assert.NotEqual(t, struck[0].Track, struck[1].Track)
}

// Two channels, running status, a tempo change in the middle, a key struck
// twice and one let go by strength 0: as RP-001 has it, from memory.
func TestDecodeByHand(t *testing.T) {
	data := []byte("MThd\x00\x00\x00\x06\x00\x00\x00\x01\x00\x60MTrk\x00\x00\x00\x25" +
		"\x00\x90\x3c\x40\x60\x3c\x00" + // quarter at 120: 0.5 s
		"\x00\xff\x51\x03\x0f\x42\x40" + // then 60 a minute
		"\x00\x91\x3e\x50\x60\x91\x3e\x60" + // struck again after 1 s
		"\x00\xc0\x05\x60\x81\x3e\x00" + "\x00\xff\x2f\x00")
	struck, err := smf.Decode(data)
	require.NoError(t, err)
	require.Len(t, struck, 3)
	assert.Equal(t, smf.Struck{At: 0, Until: 0.5, Key: 60, Strength: 64}, struck[0])
	assert.Equal(t, smf.Struck{At: 0.5, Until: 1.5, Key: 62, Strength: 80}, struck[1])
	assert.Equal(t, smf.Struck{At: 1.5, Until: 2.5, Key: 62, Strength: 96}, struck[2])
}

func TestDecodeRefuses(t *testing.T) {
	for _, data := range []string{"", "RIFF", "MThd\x00\x00\x00\x06\x00\x00\x00\x01\x00\x00", "MThd\xff\xff\xff\xff\x00\x00\x00\x01\x00\x60"} {
		_, err := smf.Decode([]byte(data))
		assert.ErrorIs(t, err, smf.ErrNoMIDI, "%q", data)
	}
}

func FuzzDecode(f *testing.F) {
	f.Add(smf.Encode(performance(4, note("C4", music.Int(0), music.Int(1), perf.Right)), "x"))
	f.Add([]byte("MThd\x00\x00\x00\x06\x00\x00\x00\x01\xe7\x28MTrk\x00\x00\x00\x04\x00\xf0\x7f\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		struck, err := smf.Decode(data)
		if err != nil {
			return
		}
		assert.LessOrEqual(t, len(struck), len(data))
		for i, s := range struck {
			assert.GreaterOrEqual(t, s.Until, s.At)
			if i > 0 {
				assert.GreaterOrEqual(t, s.At, struck[i-1].At)
			}
		}
	})
}
