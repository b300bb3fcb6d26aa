package codec_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec"
)

// What stands in a file and not on its page is counted, each name once.
func TestNotDrawn(t *testing.T) {
	list := func(text string) (said []string) {
		s, err := codec.Open([]byte(text), "", nil)
		require.NoError(t, err)
		for _, n := range s.NotDrawn {
			said = append(said, n.Element+" = "+n.In(nil))
		}
		return said
	}
	const note = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration>`
	xml := func(inside string) string {
		return `<score-partwise><part-list><score-part id="P1"/></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>` +
			inside + `</measure></part></score-partwise>`
	}
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"nothing", xml(note + `</note>`), nil},
		{"by the reader and by the page", xml(`<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony><direction><direction-type><bracket type="start"/></direction-type></direction>` +
			note + `<notations><articulations><scoop/></articulations><technical><pluck>p</pluck><fingering>1</fingering></technical></notations></note>`),
			[]string{"harmony = chord symbols: 1", "scoop = scoops: 1", "bracket = brackets over notes: 1", "pluck = “pluck”: 1"}},
		{"syllables, but not a level stored as one", xml(note + `<lyric><text>p</text></lyric><lyric><text>la</text></lyric><lyric><text>li</text></lyric></note>`),
			[]string{"lyric = syllables of a text: 2"}},
		{"columns of Humdrum", "**kern\t**text\n4c\tla\n4d\t.\n4e\tli\n*-\t*-\n", []string{"**text = syllables of a text: 2"}},
		{"chords of ABC", "X:1\nM:2/4\nL:1/4\nK:C\n\"C\"c \"G\"d|\n", []string{"harmony = chord symbols: 2"}},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, list(c.text)) })
	}
}
