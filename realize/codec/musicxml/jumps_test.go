package musicxml_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec/musicxml"
)

// What <sound> says of the way back counts more than the words beside it, in
// either order, and a piece that is written out reads back with the same way
// (MusicXML 4.0, sound: dacapo and dalsegno are for playback, words are what
// is printed).
func TestWordsAndSoundOfJumps(t *testing.T) {
	const d = `<direction><direction-type><words>`
	for name, tt := range map[string]struct {
		music string
		want  []string
	}{
		"words alone":       {d + `D.C. al Fine</words></direction-type></direction>`, []string{"dacapo"}},
		"sound after words": {d + `D.C.</words></direction-type></direction><sound dalsegno="segno"/>`, []string{"dalsegno"}},
		"sound before":      {`<sound dalsegno="segno"/>` + d + `D.C.</words></direction-type></direction>`, []string{"dalsegno"}},
		"sound with words":  {d + `D.S.</words></direction-type><sound dacapo="yes"/></direction>`, []string{"dacapo"}},
		"a measure beside":  {d + `D.C. al fine</words></direction-type></direction></measure><measure number="2"><sound dalsegno="segno"/>` + quarter("C", 4), nil},
		"no way back":       {d + `D.C. al fine</words></direction-type></direction><sound dacapo="no"/>`, nil},
		"another thing":     {d + `Fine</words></direction-type></direction><sound dacapo="yes"/>`, []string{"dacapo", "fine"}},
	} {
		t.Run(name, func(t *testing.T) {
			first, err := musicxml.Decode([]byte(oneScore(`<measure number="1">`+attributes+quarter("C", 4)+tt.music+`</measure>`)), nil)
			require.NoError(t, err)
			assert.ElementsMatch(t, tt.want, first.Passage.Measures[0].Jumps)
			text, err := musicxml.Encode(first.Passage)
			require.NoError(t, err)
			again, err := musicxml.Decode(text, nil)
			require.NoError(t, err)
			assert.ElementsMatch(t, tt.want, again.Passage.Measures[0].Jumps)
		})
	}
}
