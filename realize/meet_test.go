package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
)

// TestMeetings: turns and short trills say which note of the other hand each
// of their notes meets. Common practice, no source; the third is case V10.
func TestMeetings(t *testing.T) {
	for _, c := range []struct{ name, music, key, want string }{
		{"a turn over two eighths", "M:2/4\nL:1/8\nK:C\n[V:R] !turn!c2 d2 |]\n[V:L] A,/F,/ G,/E,/ F,2 |]\n", "turn.even", "D with A; C with F; B with G; C with E"},
		{"a short trill over a held note", "M:2/4\nL:1/8\nK:C\n[V:R] Pc2 d2 |]\n[V:L] A,2 F,2 |]\n", "short.three", "C with A, D, C"},
		{"a turn on a dotted eighth over triplets", "M:2/4\nL:1/16\nK:F\n[V:R] !delayedturn!c3d c4 |]\n[V:L] (3F,2A,2C2 (3F,2A,2C2 |]\n", "turn.dot.raised", "C with F, D; C with A, B, C"},
		{"off the other hand's beat", "M:2/4\nL:1/8\nK:C\n[V:R] c2 Pc2 |]\n[V:L] A,4 |]\n", "short.three", "C over A, D, C"},
		{"the other hand silent", "M:2/4\nL:1/8\nK:C\n[V:R] Pc2 d2 |]\n[V:L] z4 |]\n", "short.three", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := passage(t, "X:1\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\n"+c.music)
			r := realize.Read(p, realize.Taste{Tradition: "vienna", Tempo: 54})
			require.NotEmpty(t, r.Ornaments)
			for i := range r.Ornaments[0].Choices {
				if x := &r.Ornaments[0].Choices[i]; x.Key == c.key {
					assert.Equal(t, c.want, x.Meets())
					return
				}
			}
			t.Fatalf("no choice %s", c.key)
		})
	}
}
