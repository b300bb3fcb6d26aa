package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
)

// TestFingersOfATrillAndItsEnding: right hand 3-2 then 1-2, or 4-3 then 2-3;
// left hand 1-2 or 2-3; the wider pairs as alternatives. Couperin 1716,
// C.P.E. Bach 1753 (Versuch I, 2.3 §10 and 12), Clementi 1801, read.
func TestFingersOfATrillAndItsEnding(t *testing.T) {
	for _, c := range []struct {
		name, music, key, want string
		others                 []string
	}{
		{name: "right hand, then down", music: "[V:R] Td2 c2 |]\n[V:L] z4 |]", key: "trill.upper.suffix",
			want: "3 2 3 2 3 2 1 2", others: []string{"4 3 4 3 4 3 2 3", "4 2 4 2 4 2 1 2", "5 3 5 3 5 3 2 3"}},
		{name: "right hand, then up", music: "[V:R] Td2 e2 |]\n[V:L] z4 |]", key: "trill.upper.suffix", want: "4 3 4 3 4 3 2 3",
			others: []string{"3 2 3 2 3 2 1 2"}},
		{name: "left hand, then down", music: "[V:R] z4 |]\n[V:L] TD2 C2 |]", key: "trill.upper.suffix", want: "1 2 1 2 1 2 3 2",
			others: []string{"2 3 2 3 2 3 4 3"}},
		{name: "left hand, then up", music: "[V:R] z4 |]\n[V:L] TD2 E2 |]", key: "trill.upper.suffix", want: "2 3 2 3 2 3 4 3"},
		{name: "mordent", music: "[V:R] g2 Mc2 |]\n[V:L] z4 |]", key: "mordent.single", want: "2 1 2"},
		{name: "over two held keys", music: "[V:R] T[EGc]2 B2 |]\n[V:L] z4 |]", key: "trill.upper", want: "4 3 4 3 4 3 4 3"},
		{name: "a roll", music: "[V:R] !arpeggio![EGc]2 B2 |]\n[V:L] z4 |]", key: "roll.beat", want: "1 2 5"},
		{name: "two voices lean", music: "[V:R] {[df]/2}[ce]2 z2 |]\n[V:L] z4 |]", key: "lean.half", want: "2 4 1 3"},
		{name: "the last note of a run", music: "[V:R] {G/2A/2B/2c/2d/2e/2f/2}g2 z2 |]\n[V:L] z4 |]", key: "small.beat", want: "1 2 3 4 5 1 2 3"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := passage(t, "X:1\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n"+c.music+"\n")
			r := realize.Read(p, realize.Taste{Tradition: "berlin", Tempo: 72})
			require.Len(t, r.Ornaments, 1)
			for _, x := range r.Ornaments[0].Choices {
				if x.Key != c.key {
					continue
				}
				assert.Equal(t, c.want, x.Fingers())
				var all []string
				for _, f := range x.Fingerings {
					all = append(all, (&realize.Choice{Fingering: f.Fingers}).Fingers())
					assert.NotEmpty(t, f.Why)
					assert.NotEmpty(t, f.Source.Text)
				}
				for _, o := range c.others {
					assert.Contains(t, all, o)
				}
				return
			}
			t.Fatalf("no choice %s", c.key)
		})
	}
}
