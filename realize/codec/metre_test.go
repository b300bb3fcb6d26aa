package codec_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec"
	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/music"
)

// C and ¢ are kept from every format and written back, and a fraction that
// follows them is a fraction again. What each word means: MusicXML 4.0, time;
// ABC 2.1, 3.1.6; Humdrum's *met.
func TestMetreSymbols(t *testing.T) {
	xml := func(first, second string) string {
		return `<score-partwise><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1">` +
			`<measure number="1"><attributes><divisions>1</divisions>` + first + `</attributes>` +
			`<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>whole</type></note></measure>` +
			`<measure number="2"><attributes>` + second + `</attributes>` +
			`<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><type>whole</type></note></measure></part></score-partwise>`
	}
	fraction := music.Metre{Beats: 4, Unit: 4}
	common := music.Metre{Beats: 4, Unit: 4, Symbol: music.CommonTime}
	cut := music.Metre{Beats: 2, Unit: 2, Symbol: music.CutTime}
	for name, tt := range map[string]struct {
		text          string
		first, second music.Metre
	}{
		"MusicXML": {xml(`<time symbol="common"><beats>4</beats><beat-type>4</beat-type></time>`,
			`<time symbol="cut"><beats>2</beats><beat-type>2</beat-type></time>`), common, cut},
		"MusicXML, a number alone": {xml(`<time symbol="cut"><beats>2</beats><beat-type>2</beat-type></time>`,
			`<time symbol="single-number"><beats>4</beats><beat-type>4</beat-type></time>`), cut, fraction},
		"ABC":                       {"X:1\nM:C\nL:1/4\nK:C\nc4 | [M:C|] c4 |]\n", common, cut},
		"ABC, a fraction after":     {"X:1\nM:C|\nL:1/4\nK:C\nc4 | [M:4/4] c4 |]\n", cut, fraction},
		"kern":                      {"**kern\n*M4/4\n*met(c)\n=1\n1cc\n=2\n*M2/2\n*met(c|)\n1cc\n==\n*-\n", common, cut},
		"kern, the sign first":      {"**kern\n*met(c)\n*M4/4\n=1\n1cc\n=2\n*met(c|)\n*M2/2\n1cc\n==\n*-\n", common, cut},
		"kern, a fraction after":    {"**kern\n*M2/2\n*met(c|)\n=1\n1cc\n=2\n*M4/4\n1cc\n==\n*-\n", cut, fraction},
		"kern, a mensuration aside": {"**kern\n*M4/4\n*met(O)\n=1\n1cc\n=2\n*M2/2\n*met(c|)\n1cc\n==\n*-\n", fraction, cut},
	} {
		t.Run(name, func(t *testing.T) {
			p, _, err := codec.Decode([]byte(tt.text), nil)
			require.NoError(t, err)
			require.Len(t, p.Measures, 2)
			assert.Equal(t, [2]music.Metre{tt.first, tt.second}, [2]music.Metre{p.Measures[0].Metre, p.Measures[1].Metre})
			xml, err := musicxml.Encode(p)
			require.NoError(t, err)
			for _, again := range []string{string(xml), abc.Encode(p)} {
				q, _, err := codec.Decode([]byte(again), nil)
				require.NoError(t, err)
				assert.Equal(t, [2]music.Metre{tt.first, tt.second}, [2]music.Metre{q.Measures[0].Metre, q.Measures[1].Metre}, again)
			}
		})
	}
}
