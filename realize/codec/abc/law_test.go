package abc_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"agremens/assets"
	"agremens/realize/codec/abc"
)

// What is written reads back as the same passage.
func TestRoundTrip(t *testing.T) {
	texts := map[string]string{}
	for _, e := range assets.Passages() {
		texts[e.ID] = e.ABC
	}
	data, err := os.ReadFile("testdata/basics.txt")
	require.NoError(t, err)
	for _, f := range txtar.Parse(data).Files {
		if strings.HasSuffix(f.Name, ".abc") {
			texts[f.Name] = string(f.Data)
		}
	}
	require.Greater(t, len(texts), 30)
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			p, _, err := abc.Decode(text)
			require.NoError(t, err)
			for i := range p.Chords { // half a slur is not written
				p.Chords[i].SlurBegins, p.Chords[i].SlurEnds = false, false
			}
			written := abc.Encode(p)
			q, _, err := abc.Decode(written)
			require.NoError(t, err, written)
			assert.Equal(t, p, q, written)
		})
	}
}
