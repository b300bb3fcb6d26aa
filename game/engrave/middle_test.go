package engrave_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/engrave"
)

// A slur over three systems has a part in each of them.
func TestSlurOverWholeSystems(t *testing.T) {
	bar := "cdef gabc'|"
	p := decode(t, "X:1\nL:1/8\nM:4/4\nK:C\n(cdef gabc'|"+strings.Repeat(bar, 10)+"cdef gabc')|]\n")
	l := engrave.Page(p, nil, 60, engrave.Options{})
	require.GreaterOrEqual(t, len(l.Systems), 3)
	for i, s := range l.Systems {
		longest := 0.0
		for _, it := range l.Items {
			if it.Kind == engrave.KindCurve && it.W != it.W2 && it.Y > s.Top && it.Y < s.Bottom {
				longest = max(longest, it.X2-it.X)
			}
		}
		assert.Greater(t, longest, (s.Right-s.Left)/2, "system %d", i)
	}
}
