package main

import (
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/realize/codec/wav"
)

// soundOf reads a WAV file, mono.
func soundOf(t *testing.T, file string) ([]float32, int) {
	t.Helper()
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	r, err := wav.New(f)
	require.NoError(t, err)
	return readAll(r), r.Rate
}

func writeSound(t *testing.T, x []float32, rate int) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sound.wav")
	b := []byte("RIFF\x00\x00\x00\x00WAVEfmt \x10\x00\x00\x00\x01\x00\x01\x00")
	b = binary.LittleEndian.AppendUint32(b, uint32(rate))
	b = binary.LittleEndian.AppendUint32(b, uint32(2*rate))
	b = append(b, "\x02\x00\x10\x00data"...)
	b = binary.LittleEndian.AppendUint32(b, uint32(2*len(x)))
	for _, v := range x {
		b = binary.LittleEndian.AppendUint16(b, uint16(int16(max(-1, min(1, v))*32767)))
	}
	require.NoError(t, os.WriteFile(file, b, 0o644))
	return file
}

// click adds a metronome's click.
func click(x []float32, rate int, at, gain float64) {
	first := int(math.Round(at * float64(rate)))
	for i := range 1500 {
		if k := first + i; k >= 0 && k < len(x) {
			s := float64(i) / float64(rate)
			x[k] += float32(gain * math.Sin(2*math.Pi*2000*s) * math.Exp(-s/0.006))
		}
	}
}

// From the score alone: the beat is found in the recording or in what the
// loudspeaker was sent, and the playing held against it.
func TestBeatFromTheScore(t *testing.T) {
	plain := heardOf(t, "-score", twoBars, rendered(t, "midi"))
	played, rate := soundOf(t, rendered(t, "wav"))
	const beat = 60.0 / 90 // the score's tempo
	const late, delay = 0.035, 0.06
	offset := *plain.Offset + 4*beat + 0.3
	x := append(make([]float32, int((4*beat+0.3)*float64(rate))), played...)
	sent := make([]float32, len(x))
	for at := offset - 4*beat - late; at < float64(len(x))/float64(rate); at += beat {
		click(x, rate, at, 0.2)
		click(sent, rate, at-delay, 0.4)
	}
	tempo := []string{"-score", twoBars, "-tempo", "90", "-beat"}
	file := writeSound(t, x, rate)
	for name, args := range map[string][]string{
		"in the recording":        append(tempo, file),
		"in what was sent":        append(tempo, "-speaker", writeSound(t, sent, rate), file),
		"and so in a longer file": append(tempo, "-speaker", writeSound(t, sent, rate), writeSound(t, append(x, make([]float32, 60*rate)...), rate)),
	} {
		t.Run(name, func(t *testing.T) {
			h := heardOf(t, args...)
			require.Nil(t, h.Heard.Reason)
			judged := 0
			for _, n := range h.Notes {
				if n.Error != nil {
					judged++
					assert.InDelta(t, 1000*late, *n.Error, 12, n.ID)
				}
			}
			assert.Greater(t, judged, len(h.Notes)*9/10)
			assert.Equal(t, len(args) > 6, h.Delay != nil)
			if h.Delay != nil {
				assert.InDelta(t, delay, *h.Delay, 0.001)
			}
		})
	}
	for name, args := range map[string][]string{
		"no tempo": {"-score", twoBars, "-beat", file},
		"no beat":  append(tempo, writeSound(t, played, rate)),
		"MIDI":     append(tempo, rendered(t, "midi")),
	} {
		t.Run(name, func(t *testing.T) {
			code, _, errs := call(append([]string{"hear"}, args...)...)
			assert.Zero(t, code)
			assert.Contains(t, errs, "-beat is left out")
		})
	}
}

// twoHands is a passage of the program's own, for both hands.
func twoHands(t *testing.T) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "mordent.abc")
	for _, e := range assets.Passages() {
		if e.ID == "mordent" {
			require.NoError(t, os.WriteFile(file, []byte(e.ABC), 0o644))
		}
	}
	return file
}

// The other hand sounded: its notes are found, and the played hand's alone are
// judged.
func TestSoundedFromTheScore(t *testing.T) {
	hands := twoHands(t)
	file := renderedFrom(t, hands, "wav")
	both := heardOf(t, "-score", hands, file)
	h := heardOf(t, "-score", hands, "-sounded", "left", file)
	require.Nil(t, h.Heard.Reason)
	require.Len(t, h.Notes, len(both.Notes))
	program := 0
	for i, n := range h.Notes {
		if n.By == "program" {
			program++
			assert.Nil(t, n.Error, "the program's notes are not judged")
		}
		if n.Onset != nil && both.Notes[i].Onset != nil {
			assert.InDelta(t, *both.Notes[i].Onset, *n.Onset, 0.02, n.ID)
		}
	}
	assert.Positive(t, program)
	assert.Less(t, program, len(h.Notes))
	start := map[string]*float64{}
	for _, o := range both.Ornaments {
		start[o.Note] = o.Start
	}
	require.NotEmpty(t, h.Ornaments)
	for _, o := range h.Ornaments {
		if was := start[o.Note]; o.Start != nil && was != nil {
			assert.InDelta(t, *was, *o.Start, 15, "starts against the hand that sounded")
		}
	}
}

// A loudspeaker's file with the hand in it tells when its notes came.
func TestSoundedFromWhatWasSent(t *testing.T) {
	hands := twoHands(t)
	whole, rate := soundOf(t, renderedFrom(t, hands, "wav"))
	const delay = 0.05
	x := append(make([]float32, int(delay*float64(rate))), whole...)
	for i := range x {
		x[i] *= 0.5
	}
	h := heardOf(t, "-score", hands, "-sounded", "left", "-speaker", writeSound(t, whole, rate), writeSound(t, x, rate))
	require.NotNil(t, h.Delay)
	assert.InDelta(t, delay, *h.Delay, 0.001)
}
