package engrave_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/engrave"
)

// A tap's ink has its middle at its place, under the staff of its hand.
func TestStruck(t *testing.T) {
	l := engrave.Layout{PerQuarter: 8, Systems: []engrave.System{{Staves: []float64{0, 12}}}}
	for staff, under := range map[int]float64{1: 2, 2: 14, 0: 2, 9: 14} {
		it := l.Struck(7.5, staff)
		box := it.Bounds()
		assert.InDelta(t, 7.5, (box.Left+box.Right)/2, 1e-6)
		assert.Greater(t, box.Top, under, "staff %d", staff)
		assert.Less(t, box.Bottom, under+4)
	}
	require.NotPanics(t, func() { (&engrave.Layout{}).Struck(1, 1) })
}
