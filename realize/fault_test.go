package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/abc"
)

// What usually comes first and gives way to another voice is named with the
// fault it would make; that parallel fifths are one is common practice. Where
// the sign is left out for it, the reason is that and not taste.
func TestTheFaultIsNamed(t *testing.T) {
	for _, c := range []struct {
		name, music, key string
		says             []string
	}{
		{"a short appoggiatura for a long one", "[V:R] c2 {c}d2 |]\n[V:L] E,2 F,G, |]\n", "lean.crush",
			[]string{`Otherwise first here, "appoggiatura taking half the note" makes a fault: parallel fifths with another voice: C–D over F–G.`}},
		{"no mordent", "[V:R] c !mordent!d e2 |]\n[V:L] E, G,/8F,/8G,/8F,/8G,/2 C,2 |]\n", "plain",
			[]string{"Left out, because of another voice.", `Otherwise first here, "mordent" makes a fault: parallel fifths with another voice: D–C over G–F.`}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, _, err := abc.Decode("X:1\nM:4/4\nL:1/4\nQ:1/4=72\nK:C\n%%score {R L}\nV:R\nV:L clef=bass\n" + c.music)
			require.NoError(t, err)
			r := realize.Read(p, realize.Taste{Tradition: "bach"})
			require.Len(t, r.Ornaments, 1)
			first := r.Ornaments[0].Choices[0]
			assert.Equal(t, c.key, first.Key)
			for _, says := range c.says {
				assert.Contains(t, first.Reason, says)
			}
			assert.NotContains(t, first.Reason, "taste")
		})
	}
}
