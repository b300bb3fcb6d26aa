package version_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/version"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/takedown"
)

// A turn on a quarter over sixteenths of the left hand, played on MIDI keys by
// the right hand alone: that the sixteenths do not come says nothing about
// where its beat is. The passage is ours.
func TestOneHandOverAMovingBass(t *testing.T) {
	for _, e := range assets.Passages() {
		if e.ID != "turn" {
			continue
		}
		s, err := codec.Open([]byte(e.ABC), "", nil)
		require.NoError(t, err)
		r := realize.Read(s.Passage, realize.Taste{})
		place, ok := version.Place(r, s.Passage, r.Ornaments[1].ID)
		require.True(t, ok)
		for _, quarter := range []float64{0.9, 1, 60.0 / 54, 1.4} {
			var take []takedown.Strike
			for _, n := range []struct {
				at  float64
				key int
			}{{0, 74}, {1, 74}, {1.25, 72}, {1.5, 70}, {1.75, 72}, {2, 70}, {2.75, 69}, {3, 67}} {
				take = append(take, takedown.Strike{Key: n.key, At: n.at * quarter, Odds: takedown.Certain})
			}
			v, ok := place.Write(take)
			require.True(t, ok)
			var keys []int
			for _, n := range v.Notes {
				keys = append(keys, n.Key)
			}
			assert.Equal(t, []int{74, 72, 70, 72}, keys, "%v s a quarter", quarter)
		}
	}
}
