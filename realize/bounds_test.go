package realize_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
)

// A score may ask for a trill of any length; what is written out is bounded,
// fills the note all the same, and says that it stops.
func TestLongTrillsAreBounded(t *testing.T) {
	for _, tc := range []struct {
		name    string
		quarter string // of the note, at 60 a minute
		stops   bool
	}{
		{"forty seconds", "40", false},
		{"forty-one seconds", "41", true},
		{"four minutes", "240", true},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p, _, err := abc.Decode("M:none\nL:1/4\nQ:1/4=60\nK:C\n!trill!d" + tc.quarter + " | c |]\n")
			require.NoError(t, err)
			r := realize.Read(p, realize.Taste{})
			require.Len(t, r.Ornaments, 1)
			o := r.Ornaments[0]
			for _, c := range o.Choices {
				assert.LessOrEqual(t, len(c.Notes), 600, c.Name)
				end := music.Frac{}
				for _, n := range c.Notes {
					end = end.Max(n.Onset.Add(n.Dur))
				}
				assert.Equal(t, tc.quarter, end.String(), "%s fills its note", c.Name)
			}
			said := strings.Join(o.Choices[0].Warnings, "; ")
			assert.Equal(t, tc.stops, strings.Contains(said, "written out for 40 seconds"), said)
		})
	}
}
