package realize_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
)

// TestWarnings: what a player should know before taking a choice. Common
// practice, no source.
func TestWarnings(t *testing.T) {
	for _, c := range []struct {
		name, music, key, want string
		taste                  realize.Taste
		quiet                  bool
	}{
		{name: "more notes a second than the rate", music: "[V:R] g/ Pc/4 d/4 z3 |]\n[V:L] z4 |]\n", key: "short.four", taste: realize.Taste{Tempo: 120}, want: "ms per note"},
		{name: "a trill quicker than the rate", music: "[V:R] g3/2 Tc3/4 d3/4 z |]\n[V:L] z4 |]\n", key: "trill.upper", taste: realize.Taste{Tempo: 60, Rate: 3}, want: "you play 3"},
		{name: "a key another voice holds", music: "[V:R] f2 z2 & d Te d z |]\n[V:L] z4 |]\n", key: "trill.upper", want: "F5 is held by another voice"},
		{name: "a key the other hand holds", music: "[V:R] Tc2 z2 |]\n[V:L] C, d3 |]\n", key: "trill.main", want: "D5 is held by the other hand"},
		{name: "a semitone's clash", music: "[V:R] g2 \"^=\"Tc z |]\n[V:L] C,2 _D,2 |]\n", key: "trill.upper", want: "D clashes with D♭"},
		{name: "parallel fifths", music: "[V:R] {a2}g2 e2 |]\n[V:L] E,/D,/C, z2 |]\n", key: "lean.half", taste: realize.Taste{Tradition: "berlin", Tempo: 60}, want: "fifths"},
		{name: "out of reach", music: "[V:R] [Cf] {/g}[Ca]2 z |]\n[V:L] z4 |]\n", key: "lean.half", want: "is a thirteenth away"},
		{name: "within a wide hand's reach", music: "[V:R] [Cf] {/e}[Cd]2 z |]\n[V:L] z4 |]\n", key: "lean.half", taste: realize.Taste{Reach: 16}, want: "reach", quiet: true},
		{name: "out of a small hand's reach", music: "[V:R] [Cf] {/e}[Cd]2 z |]\n[V:L] z4 |]\n", key: "lean.half", taste: realize.Taste{Reach: 12}, want: "is a tenth away"},
		{name: "a key struck twice running", music: "[V:R] c (d/ Tc) z3/2 |]\n[V:L] z4 |]\n", key: "trill.upper", want: "D is repeated"},
		{name: "not where it is held over", music: "[V:R] c (d/ Tc) z3/2 |]\n[V:L] z4 |]\n", key: "trill.joined", want: "is repeated", quiet: true},
		{name: "both hands trill", music: "[V:R] Td2 c2 |]\n[V:L] TB,2 C2 |]\n", key: "trill.upper.suffix", want: "one grid"},
		{name: "both hands ornament", music: "[V:R] !turn!d2 c2 |]\n[V:L] MB,2 C2 |]\n", key: "turn.held", want: "agree on one grid"},
		{name: "one hand only", music: "[V:R] !turn!d2 c2 |]\n[V:L] B,2 C2 |]\n", key: "turn.held", want: "grid", quiet: true},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.taste.Tradition == "" {
				c.taste.Tradition = "bach"
			}
			if c.taste.Tempo == 0 {
				c.taste.Tempo = 72
			}
			p := passage(t, "X:1\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n"+c.music)
			r := realize.Read(p, c.taste)
			for _, o := range r.Ornaments {
				for _, x := range o.Choices {
					if x.Key != c.key && x.Key != c.key+".raised" {
						continue
					}
					text := strings.Join(x.Warnings, "\n")
					if c.quiet {
						assert.NotContains(t, text, c.want)
					} else {
						assert.Contains(t, text, c.want)
					}
					return
				}
			}
			var keys []string
			for _, x := range r.Ornaments[0].Choices {
				keys = append(keys, x.Key)
			}
			require.Contains(t, keys, c.key)
		})
	}
}
