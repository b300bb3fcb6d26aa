package codec_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec"
)

func TestFormatsAreToldApartByTheirContents(t *testing.T) {
	p, _, err := codec.Decode([]byte("\ufeffX:1\nT:Two bars\nM:2/4\nL:1/4\nK:C\nC D | E2 |]\n"), nil)
	require.NoError(t, err)
	assert.Equal(t, "Two bars", p.Title)
	_, _, err = codec.Decode([]byte("<html><body>K: no</body></html>"), nil)
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
