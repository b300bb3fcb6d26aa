package codec_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
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
	assert.Equal(t, []codec.Part{{ID: "P1", Name: "Flute", Staves: 1}, {ID: "P2", Name: "Oboe", Staves: 1, Chosen: true}}, s.Parts)
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

func TestTwoPartsMayBeTheHands(t *testing.T) {
	s, err := codec.Open([]byte(quartet), "P1+P2", nil)
	require.NoError(t, err)
	assert.Equal(t, []codec.Choice{
		{ID: "P1", Label: "Flute"}, {ID: "P2", Label: "Oboe"},
		{ID: "P1+P2", Label: "right hand Flute, left hand Oboe", Chosen: true},
	}, s.Choices(nil))
	assert.Equal(t, 2, s.Passage.Staves)

	many := &codec.Score{}
	for _, id := range []string{"a", "b", "c", "d", "e", "f", "g"} {
		many.Parts = append(many.Parts, codec.Part{ID: id, Staves: 1})
	}
	assert.Len(t, many.Choices(nil), 7+6, "of seven parts only neighbours make a pair")
	many.Parts = many.Parts[1:]
	assert.Len(t, many.Choices(nil), 6+15)
	many.Parts = append(many.Parts[:1], codec.Part{ID: "piano", Staves: 2, Chosen: true})
	assert.Equal(t, []codec.Choice{{ID: "b", Label: "b"}, {ID: "piano", Label: "piano", Chosen: true}}, many.Choices(nil))
	assert.Empty(t, (&codec.Score{}).Choices(nil))
}

func TestAbout(t *testing.T) {
	about := func(text string) string {
		s, err := codec.Open([]byte(text), "", nil)
		require.NoError(t, err)
		return codec.About(nil, s, realize.Read(s.Passage, realize.Taste{}))
	}
	assert.Equal(t, "2 bars, 1 trill, 1 grace note. The tempo is printed in the score. The file names the composer: J. Doe.",
		about("X:1\nC:J. Doe\nM:2/4\nL:1/4\nQ:1/4=80\nK:C\n\"C\"Tc {g}f | e2 |]\n"))
	assert.Equal(t, "2 bars, no ornaments. The file gives no tempo in numbers: it is assumed. The file names no composer.",
		about("X:1\nM:2/4\nL:1/4\nQ:\"Andante\"\nK:C\nc f | e2 |]\n"))
	assert.Contains(t, about(quartet), "Of 2 parts Flute was read: 1 bar, no ornaments.")
	assert.Equal(t, "1 bar, 1 turn. The tempo is the file's, and not printed in the score. The file names the composer: Jane Doe. 1 thing was left out or guessed.",
		about("!!!COM: Doe, Jane\n**kern\n*M2/4\n*MM100\n=1\n4cS\n4hello\n==\n*-\n"))
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
