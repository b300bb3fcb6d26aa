package export_test

import (
	"bytes"
	"encoding/binary"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/export"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
	"agremens/realize/score"
)

const text = `X:1
T:Three bars, "for" export
M:2/4
L:1/8
Q:1/4=60
K:G
|: TB2 c2 :| {c}B2 A2 | d4 |]
`

func reading(t *testing.T) *realize.Reading {
	t.Helper()
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	return realize.Read(p, realize.Taste{})
}

// seconds of a WAV file by its header.
func seconds(t *testing.T, wav []byte) float64 {
	t.Helper()
	require.Equal(t, "RIFF", string(wav[:4]))
	require.Equal(t, len(wav), 8+int(binary.LittleEndian.Uint32(wav[4:])))
	require.Equal(t, len(wav), 44+int(binary.LittleEndian.Uint32(wav[40:])))
	return float64(len(wav)-44) / 4 / export.Rate
}

func TestEveryFormatIsWritten(t *testing.T) {
	for _, f := range export.Formats() {
		data, err := export.Write(f.Key, reading(t), export.Options{Instrument: "click"})
		require.NoError(t, err, f.Key)
		assert.NotEmpty(t, data)
		assert.True(t, strings.HasSuffix(export.FileName(reading(t).Passage, f.Key, export.Options{}), f.Ending))
	}
}

func TestSoundAtAnyTempoAndOnTheRoad(t *testing.T) {
	sound := func(o export.Options) float64 {
		o.Instrument = "click"
		wav, err := export.Write("wav", reading(t), o)
		require.NoError(t, err)
		return seconds(t, wav)
	}
	// Three bars of two beats at 60 are six seconds; a click rings a moment.
	assert.InDelta(t, 6, sound(export.Options{}), 0.2)
	assert.InDelta(t, 12, sound(export.Options{Percent: 50}), 0.2)
	assert.InDelta(t, 2, sound(export.Options{From: 1, To: 2}), 0.2)
	assert.InDelta(t, 8, sound(export.Options{Road: score.RoadOptions{Repeats: true}}), 0.2)
	assert.InDelta(t, 4, sound(export.Options{From: 0, To: 1, Road: score.RoadOptions{Repeats: true}}), 0.2)
}

// Each bar once: of two endings the last.
func TestAlongWithoutRepeats(t *testing.T) {
	p, _, err := abc.Decode("M:2/4\nL:1/4\nQ:1/4=60\nK:C\n|: C D |1 E F :|2 G A |]\n")
	require.NoError(t, err)
	r := realize.Read(p, realize.Taste{})
	for _, tc := range []struct {
		o    export.Options
		want int64
	}{{export.Options{To: 3}, 6}, {export.Options{To: 3, Along: true}, 4}, {export.Options{To: 3, Along: true, Road: score.RoadOptions{Repeats: true}}, 8}} {
		assert.Equal(t, music.Int(tc.want), export.Performance(r, tc.o).End)
	}
}

func TestWhatCannotBeWrittenIsRefused(t *testing.T) {
	for _, tc := range []struct {
		name, format string
		o            export.Options
		want         error
	}{
		{"format", "pdf", export.Options{}, export.ErrFormat},
		{"measures", "abc", export.Options{From: 2, To: 9}, export.ErrMeasures},
		{"no measures", "abc", export.Options{From: 2, To: 1}, export.ErrMeasures},
		{"tempo", "wav", export.Options{Percent: 1}, export.ErrTempo},
		{"instrument", "wav", export.Options{Instrument: "kazoo"}, export.ErrSound},
		{"tuning", "wav", export.Options{Tuning: "sour"}, export.ErrSound},
		{"pitch", "wav", export.Options{Pitch: 44}, export.ErrSound},
	} {
		_, err := export.Write(tc.format, reading(t), tc.o)
		assert.ErrorIs(t, err, tc.want, tc.name)
	}
	p, _, err := abc.Decode("M:4/4\nL:1/1\nQ:1/4=5\nK:C\n" + strings.Repeat("A|", 80))
	require.NoError(t, err)
	_, err = export.Write("wav", realize.Read(p, realize.Taste{}), export.Options{})
	assert.ErrorIs(t, err, export.ErrTooLong) // 320 quarters at 5 a minute
}

func TestSoundOfOneHand(t *testing.T) {
	p, _, err := abc.Decode("M:2/4\nL:1/4\nQ:1/4=60\n%%score {1 2}\nK:C\nV:1\nc d |]\nV:2 clef=bass\nC2 |]\n")
	require.NoError(t, err)
	clicks := func(o export.Options) int {
		o.Instrument = "click"
		wav, err := export.Write("wav", realize.Read(p, realize.Taste{}), o)
		require.NoError(t, err)
		count, silent := 0, export.Rate
		for at := 44; at+4 <= len(wav); at += 4 {
			if binary.LittleEndian.Uint32(wav[at:]) == 0 {
				silent++
				continue
			}
			if silent > export.Rate/200 {
				count++
			}
			silent = 0
		}
		return count
	}
	assert.Equal(t, 2, clicks(export.Options{}), "two onsets, the hands together on the first")
	assert.Equal(t, 2, clicks(export.Options{Hands: round.RightHand}))
	assert.Equal(t, 1, clicks(export.Options{Hands: round.LeftHand}))
	assert.Equal(t, 2, clicks(export.Options{Hands: round.LeftHand, Beat: true}), "the second beat is clicked")
	one, _, err := abc.Decode(text)
	require.NoError(t, err)
	_, err = export.Write("wav", realize.Read(one, realize.Taste{}), export.Options{Hands: round.LeftHand})
	assert.ErrorIs(t, err, export.ErrSilent)
}

func TestWAVStopsWhenToldTo(t *testing.T) {
	parts := 0
	_, err := export.WAV(reading(t), export.Options{}, func([]byte) bool { parts++; return parts < 2 })
	require.NoError(t, err)
	assert.Equal(t, 2, parts)
}

func TestFileName(t *testing.T) {
	p := reading(t).Passage
	assert.Equal(t, "three-bars-for-export.abc", export.FileName(p, "abc", export.Options{}))
	assert.Equal(t, "three-bars-for-export-bars-2-3-as-played.musicxml", export.FileName(p, "musicxml", export.Options{From: 1, To: 3}))
	assert.Equal(t, "passage.mid", export.FileName(&score.Passage{}, "midi", export.Options{}))
}

// Some measures written out play what they play in the piece.
func TestExcerptsPlayAsInThePiece(t *testing.T) {
	for name, whole := range readings(t) {
		measures := len(whole.Passage.Measures)
		from, to := measures/3, measures/3+6
		cut := whole.Cut(from, min(to, measures))
		require.NoError(t, cut.Passage.Check())
		out, err := musicxml.EncodeRealized(cut)
		require.NoError(t, err, name)
		again, err := musicxml.Decode(out, nil)
		require.NoError(t, err, name)
		want := realize.Perform(cut, realize.PerformOptions{})
		got := realize.Perform(realize.Read(again.Passage, realize.Taste{}), realize.PerformOptions{})
		lead := again.Passage.End().Sub(cut.Passage.End())
		keys := map[[2]music.Frac]map[int]bool{}
		for _, n := range got.Notes {
			at := [2]music.Frac{n.Onset.Sub(lead), n.Dur}
			if keys[at] == nil {
				keys[at] = map[int]bool{}
			}
			keys[at][n.Pitch.MIDI()] = true
		}
		for _, n := range want.Notes {
			assert.True(t, keys[[2]music.Frac{n.Onset, n.Dur}][n.Pitch.MIDI()], "%s: %v at %v for %v", name, n.Pitch, n.Onset, n.Dur)
		}
		svg, err := export.Write("svg", whole, export.Options{From: from, To: from + 2})
		require.NoError(t, err)
		assert.True(t, bytes.HasPrefix(svg, []byte("<svg")))
	}
}
