package abc_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec/abc"
	"agremens/realize/music"
)

// What stands after K: and before anything of a voice concerns every voice;
// what is in a voice concerns that voice (ABC 2.1, sections 3.2 and 7; the
// scope before the first V: is common practice, no source).
func TestFieldsBeforeTheFirstVoice(t *testing.T) {
	for _, tc := range []struct{ name, text string }{
		{"voices named in the header", "V:R clef=treble\nV:L clef=bass\nK:C\nL:1/4\nM:3/4\nQ:1/4=88\nK:G\n[V:R] fga|b3|\n[V:L] F3|G,3|\n"},
		{"voices named in the body", "K:C\nM:3/4\nK:G\nQ:1/4=88\nL:1/4\nV:R\nfga|b3|\nV:L clef=bass\nF3|G,3|\n"},
		{"inline", "V:R\nV:L clef=bass\nK:C\n[M:3/4][L:1/4][K:G][Q:1/4=88]\n[V:R] fga|b3|\n[V:L] F3|G,3|\n"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p, warnings, err := abc.Decode(tc.text)
			require.NoError(t, err)
			assert.Empty(t, warnings)
			require.Len(t, p.Measures, 2)
			assert.Equal(t, music.Metre{Beats: 3, Unit: 4}, p.Measures[0].Metre)
			assert.Equal(t, int8(1), p.Measures[0].Key.Fifths)
			assert.Equal(t, music.Int(3), p.Measures[1].Length)
			assert.Equal(t, 88.0, p.Tempos[0].QuartersPerMinute)
			lower := 0
			for i := range p.Chords {
				if c := &p.Chords[i]; c.Staff == 2 {
					lower++
					assert.Equal(t, music.Int(3), c.Dur)
				}
			}
			assert.Equal(t, 2, lower)
		})
	}
}

// A clef that a voice has named stays; the others take the key field's.
func TestAClefForAllVoices(t *testing.T) {
	p, _, err := abc.Decode("V:R clef=treble\nV:L\nK:C\nK:G bass\n[V:R] C8|\n[V:L] C8|\n")
	require.NoError(t, err)
	require.Len(t, p.Clefs, 2)
	assert.Equal(t, "G", p.Clefs[0].Sign)
	assert.Equal(t, "F", p.Clefs[1].Sign)
}

func TestFieldsWithinAVoice(t *testing.T) {
	p, warnings, err := abc.Decode("L:1/4\nM:4/4\nK:C\nV:R\nL:1/8\nCDEF GABc|\nV:L clef=bass\nC,4|\n")
	require.NoError(t, err)
	assert.Empty(t, warnings)
	assert.Equal(t, music.Int(4), p.Measures[0].Length, "the other voice keeps its own length")
}

// A metre counts at once where its bar has no note yet, from the next bar on
// where it has, and says so.
func TestAMetreInsideABar(t *testing.T) {
	p, warnings, err := abc.Decode("L:1/4\nM:4/4\nK:C\nCDEF|!segno![M:3/4]CDE|C[M:2/4]DE|CD|\n")
	require.NoError(t, err)
	require.Len(t, p.Measures, 4)
	for i, beats := range []int{4, 3, 3, 2} {
		assert.Equal(t, beats, p.Measures[i].Metre.Beats, "bar %d", i+1)
	}
	require.Len(t, warnings, 1)
	assert.Equal(t, 4, warnings[0].Line)
	assert.Equal(t, 25, warnings[0].Column)
}

// I:linebreak says what ends a line of the staff (ABC 2.1, section 6.1.1).
func TestLineBreaks(t *testing.T) {
	for _, tc := range []struct {
		name, field string
		want        []bool
	}{
		{"the end of the text line and $", "", []bool{false, true, true}},
		{"$ alone", "I:linebreak $\n", []bool{false, true, false}},
		{"the end of the text line alone", "I:linebreak <EOL>\n", []bool{false, false, true}},
		{"none", "I:linebreak <none>\n", []bool{false, false, false}},
		{"!", "I:linebreak !\n", []bool{false, false, false}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p, _, err := abc.Decode(tc.field + "L:1/4\nK:C\nCDEF|$CDEF|\n+trill+CDEF|\n")
			require.NoError(t, err)
			require.Len(t, p.Measures, 3)
			for i, want := range tc.want {
				assert.Equal(t, want, p.Measures[i].NewSystem, "bar %d", i+1)
			}
		})
	}
	p, warnings, err := abc.Decode("I:linebreak !\nL:1/4\nK:C\nCDEF|!CDEF|\n+trill+CDEF|\n")
	require.NoError(t, err)
	assert.Empty(t, warnings)
	assert.True(t, p.Measures[1].NewSystem)
	assert.Len(t, p.Measures, 3)
}
