package engrave_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/engrave"
	"agremens/realize"
)

// Every choice of every ornament has a preview with at least its struck notes,
// each in its time; what does not exist has an empty one.
func TestPreviewsOfAllChoices(t *testing.T) {
	seen := 0
	for _, entry := range assets.Passages() {
		p := decode(t, entry.ABC)
		r := realize.Read(p, realize.Taste{})
		for _, o := range r.Ornaments {
			for i, c := range o.Choices {
				l := engrave.Preview(p, r, o.ID, i)
				require.NotEmpty(t, l.Items, "%s %s %s", entry.ID, o.ID, c.Key)
				assert.GreaterOrEqual(t, len(l.Spots), len(c.Notes), "%s %s %s", entry.ID, o.ID, c.Key)
				for _, s := range l.Spots {
					assert.Equal(t, o.ID, s.Ornament)
					assert.InDelta(t, l.X(s.Onset), (s.Box.Left+s.Box.Right)/2, 1.3, "%s %s %s", entry.ID, o.ID, c.Key)
				}
				_, where := collisions(l)
				assert.Empty(t, where, "%s %s %s", entry.ID, o.ID, c.Key)
				seen++
			}
		}
		assert.Empty(t, engrave.Preview(p, r, "no such", 0).Items)
	}
	assert.NotZero(t, seen)
}
