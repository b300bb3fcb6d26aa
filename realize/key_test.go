package realize_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
)

// Phrases of our own; common practice, no source.
const (
	inC = "[CEG]2 [B,DG]2 | [CEA]2 [CFA]2 | [CEG]2 [B,DG]2 | [CEGc]4 |"
	inG = "[DFA]2 [B,DG]2 | [CEA]2 [DF^c]2 | [D^FA]2 [D^Fc]2 | [B,DG]4 | [C^FA]2 [B,DG]2 | [CEA]2 [D^Fc]2 | [B,DG]4 |"
	inA = "[A,CE]2 [^G,B,E]2 | [A,CE]2 [A,DF]2 | [A,CE]2 [^G,B,E]2 | [A,CEA]4 |"
)

func TestLocalKeyOfPhrases(t *testing.T) {
	for _, tc := range []struct{ name, signature, notes, first, last string }{
		{"one key", "C", inC + "T[CEGc]4 |]", "", "C major"},
		{"its relative", "C", inA + "T[A,CEA]4 |]", "", "A minor"},
		{"the dominant is reached", "C", "T[CEGc]4 |" + inC + inC + inG + inG + "TG4 |]", "C major", "G major"},
		{"a chord of the dominant's dominant changes nothing", "C", inC + "[D^FAc]2 T[B,DG]2 |" + inC + "T[CEGc]4 |]", "C major", "C major"},
		{"too few notes to tell: the signature", "Eb", "TE4 | B4 | TE4 |]", "Eb major", "Eb major"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p, _, err := abc.Decode("X:1\nM:4/4\nL:1/4\nK:" + tc.signature + "\n" + tc.notes + "\n")
			require.NoError(t, err)
			o := realize.Read(p, realize.Taste{}).Ornaments
			require.NotEmpty(t, o)
			if tc.first != "" {
				assert.Equal(t, tc.first, o[0].Key.String())
			}
			assert.Equal(t, tc.last, o[len(o)-1].Key.String())
		})
	}
}

// Whatever the notes and the metre, every ornament has a key that a signature
// of up to fourteen accidentals can write.
func TestLocalKeyOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		b.WriteString("X:1\nM:" + rapid.SampledFrom([]string{"4/4", "3/8", "6/8", "5/64", "31/2"}).Draw(t, "metre") + "\nL:1/8\nK:" + rapid.SampledFrom([]string{"C", "C#", "Cb", "Am"}).Draw(t, "key") + "\n")
		for range rapid.IntRange(1, 40).Draw(t, "notes") {
			b.WriteString(rapid.SampledFrom([]string{"TA", "^^c", "__d", "z4", "| ", "[K:F#]", "^Ge", "{b}a"}).Draw(t, "next"))
		}
		p, _, err := abc.Decode(b.String())
		if err != nil {
			return
		}
		for _, o := range realize.Read(p, realize.Taste{}).Ornaments {
			if o.Key.Fifths < -14 || o.Key.Fifths > 14 {
				t.Fatalf("%v in %s", o.Key, b.String())
			}
		}
	})
}

func TestKeyNames(t *testing.T) {
	assert.Equal(t, "C# minor", music.Key{Fifths: 4, Mode: music.Minor}.String())
	assert.Equal(t, "Bb major", music.Key{Fifths: -2, Mode: music.Major}.String())
	assert.Equal(t, "A major", music.Key{Fifths: 3}.String(), "unknown: as major")
}
