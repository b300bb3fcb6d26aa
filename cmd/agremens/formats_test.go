package main

import (
	"encoding/binary"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
)

func realizeAs(t *testing.T, format string, args ...string) string {
	t.Helper()
	code, out, errs := call(append([]string{"realize", "-format", format, twoBars}, args...)...)
	require.Equal(t, 0, code, errs)
	return out
}

// TestWAV reads the sound of two bars at 90 quarters a minute: 8 quarters
// are 16/3 seconds, then it rings.
func TestWAV(t *testing.T) {
	seconds := func(args ...string) float64 {
		wav := realizeAs(t, "wav", append(args, "-instrument", "click")...)
		require.Equal(t, "RIFF", wav[:4])
		require.Equal(t, "WAVEfmt ", wav[8:16])
		assert.Equal(t, uint16(2), binary.LittleEndian.Uint16([]byte(wav[22:])), "channels")
		assert.Equal(t, uint32(48000), binary.LittleEndian.Uint32([]byte(wav[24:])))
		assert.Equal(t, uint16(16), binary.LittleEndian.Uint16([]byte(wav[34:])), "bits")
		return float64(binary.LittleEndian.Uint32([]byte(wav[40:]))) / 4 / 48000
	}
	assert.InDelta(t, 8*60.0/90, seconds(), 0.2)
	assert.InDelta(t, 4*60.0/90, seconds("-measures", "2"), 0.2, "one measure")
	assert.InDelta(t, 8*60.0/180, seconds("-tempo", "180"), 0.2, "twice the tempo")
	assert.InDelta(t, 8*60.0/45, seconds("-percent", "50"), 0.2, "half the tempo")
}

func TestWAVFollowsInstrumentTuningAndPitch(t *testing.T) {
	plain := realizeAs(t, "wav", "-measures", "2")
	for _, args := range [][]string{{"-instrument", "fortepiano"}, {"-tuning", "vallotti"}, {"-pitch", "415"}} {
		assert.NotEqual(t, plain, realizeAs(t, "wav", append(args, "-measures", "2")...), args)
	}
	assert.Equal(t, plain, realizeAs(t, "wav", "-measures", "2"), "the same every time")
}

func TestMIDI(t *testing.T) {
	midi := realizeAs(t, "midi")
	require.Equal(t, "MThd\x00\x00\x00\x06\x00\x01\x00\x03", midi[:12], "format 1, three tracks")
	assert.Equal(t, 3, strings.Count(midi, "MTrk"))
	assert.Less(t, len(realizeAs(t, "midi", "-measures", "2")), len(midi))
}

// The two bars hold a trill of four notes in a quarter, which pianists do not
// play evenly.
func TestOrnamentsArePerformedOrEven(t *testing.T) {
	even := realizeAs(t, "midi")
	assert.Equal(t, even, realizeAs(t, "midi", "-ornaments", "even"), "even unless asked otherwise")
	assert.NotEqual(t, even, realizeAs(t, "midi", "-ornaments", "performed"))
	code, _, errs := call("realize", "-ornaments", "dull", twoBars)
	assert.NotZero(t, code)
	assert.Contains(t, errs, "-ornaments dull is neither performed nor even")
}

func TestSVG(t *testing.T) {
	d := xml.NewDecoder(strings.NewReader(realizeAs(t, "svg")))
	shapes := 0
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		if start, ok := token.(xml.StartElement); ok && start.Name.Local != "svg" {
			shapes++
		}
	}
	assert.Greater(t, shapes, 30)
}

func TestABC(t *testing.T) {
	p, _, err := abc.Decode(realizeAs(t, "abc"))
	require.NoError(t, err)
	assert.Equal(t, "Two bars", p.Title)
	assert.Len(t, p.Measures, 2)
}

func TestMusicXMLHoldsTheNotesInPlaceOfTheSigns(t *testing.T) {
	result, err := musicxml.Decode([]byte(realizeAs(t, "musicxml")), nil)
	require.NoError(t, err)
	p := result.Passage
	assert.Equal(t, "Two bars", p.Title)
	assert.Greater(t, len(p.Chords), 6, "the two ornaments have more notes than the six printed ones")
	for _, c := range p.Chords {
		assert.Empty(t, c.Signs)
	}
}

func TestMusicXMLKeepsTheSigns(t *testing.T) {
	result, err := musicxml.Decode([]byte(realizeAs(t, "musicxml-signs")), nil)
	require.NoError(t, err)
	signs := 0
	for _, c := range result.Passage.Chords {
		signs += len(c.Signs)
	}
	assert.NotZero(t, signs)
}

func TestSomeMeasures(t *testing.T) {
	for _, format := range []string{"musicxml", "musicxml-signs"} {
		result, err := musicxml.Decode([]byte(realizeAs(t, format, "-measures", "2")), nil)
		require.NoError(t, err)
		assert.Equal(t, "2", result.Passage.Measures[len(result.Passage.Measures)-1].Number)
		assert.Less(t, len(result.Passage.Measures), 3, format)
	}
	p, _, err := abc.Decode(realizeAs(t, "abc", "-measures", "2"))
	require.NoError(t, err)
	assert.Len(t, p.Measures, 1)
}
