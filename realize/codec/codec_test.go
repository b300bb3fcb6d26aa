package codec_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec"
)

func TestFormatsAreToldApartByTheirContents(t *testing.T) {
	p, _, err := codec.Decode([]byte("\ufeffX:1\nT:Two bars\nM:2/4\nL:1/4\nK:C\nC D | E2 |]\n"), nil)
	require.NoError(t, err)
	assert.Equal(t, "Two bars", p.Title)
	_, _, err = codec.Decode([]byte("Dear pupil,\n\nX:1\nK:C\nC D|\n"), nil)
	require.NoError(t, err)
	_, _, err = codec.Decode([]byte("<html><body>K: no</body></html>"), nil)
	assert.Error(t, err)
}

const quartet = `<score-partwise><part-list><score-part id="P1"><part-name>Flute</part-name></score-part>
<score-part id="P2"><part-name>Oboe</part-name></score-part></part-list>
<part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>
<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>whole</type></note></measure></part>
<part id="P2"><measure number="1"><attributes><divisions>1</divisions></attributes>
<note><pitch><step>A</step><octave>4</octave></pitch><duration>4</duration><type>whole</type></note></measure></part></score-partwise>`

func TestOfSeveralPartsOneIsChosen(t *testing.T) {
	s, err := codec.Open([]byte(quartet), "P2", nil)
	require.NoError(t, err)
	assert.Equal(t, []codec.Part{{ID: "P1", Name: "Flute"}, {ID: "P2", Name: "Oboe", Chosen: true}}, s.Parts)
	assert.Equal(t, "A4", s.Passage.Chords[0].Notes[0].Pitch.String())
	_, err = codec.Open([]byte(quartet), "P9", nil)
	assert.Error(t, err)
}

func TestWordsAreSentences(t *testing.T) {
	for _, tc := range []struct{ name, data, starts string }{
		{"a whole file", "", " "},
		{"a place in MusicXML", "<score-partwise><part-list/>", " "},
		{"a place in ABC", "X:1\nK:C\n\"^# C D", " Line 3, column 1: "},
	} {
		_, _, err := codec.Decode([]byte(tc.data), nil)
		require.Error(t, err, tc.name)
		words := codec.Words(err)
		assert.Regexp(t, "^"+tc.starts+`[A-Z].*\. [A-Z].*\.$|^`+tc.starts+`.*\. [A-Z].*\.$`, words, tc.name)
		assert.NotContains(t, words, "musicxml:", tc.name)
		assert.NotContains(t, words, "—", tc.name)
	}
}

func TestFaultyABCFilesOpen(t *testing.T) {
	dir := os.Getenv("AGREMENS_REFERENCE")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "reference")
	}
	if _, err := os.Stat(filepath.Join(dir, "faults")); err != nil {
		t.Skipf("no reference data at %s", dir)
	}
	paths, err := filepath.Glob(filepath.Join(dir, "faults", "*.abc"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		s, err := codec.Open(data, "", nil)
		require.NoError(t, err, path)
		assert.Equal(t, "An Andante for Turns", s.Passage.Title, path)
	}
}
