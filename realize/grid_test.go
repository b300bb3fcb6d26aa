package realize_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
)

// Two hands that trill at once move on one grid, whatever the length of their
// notes and the player's rate: the first notes are as long in both. Common
// practice, no source.
func TestTwoTrillsShareOneGrid(t *testing.T) {
	for _, tempo := range []float64{48, 60, 72, 80, 96, 120} {
		for _, rate := range []float64{5, 6, 8, 12} {
			for _, pair := range [][2]string{{"2", "2"}, {"3", "2"}, {"2", "3"}, {"1", "2"}, {"3/2", "3"}, {"4", "3/2"}, {"4", "1"}} {
				rest := func(n string) string { return fmt.Sprintf("T%%s%s z4", n) }
				text := fmt.Sprintf("X:1\nM:none\nL:1/4\n%%%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n[V:R] "+rest(pair[0])+" |]\n[V:L] "+rest(pair[1])+" |]\n", "d", "B,")
				r := realize.Read(passage(t, text), realize.Taste{Tradition: "vienna", Tempo: tempo, Rate: rate})
				require.Len(t, r.Ornaments, 2)
				a, b := r.Ornaments[0].Choices[0], r.Ornaments[1].Choices[0]
				require.Greater(t, len(a.Notes), 2, a.Key)
				require.Greater(t, len(b.Notes), 2, b.Key)
				assert.Equal(t, a.Notes[0].Dur, b.Notes[0].Dur, "at %v, rate %v, lengths %v: %s and %s", tempo, rate, pair, shown(a), shown(b))
				assert.Contains(t, fmt.Sprint(a.Warnings, b.Warnings), "one grid")
			}
		}
	}
}
