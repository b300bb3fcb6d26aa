package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec/abc"
)

// Listening, a trill is shaped unless it is to be even; tapping it never is. The
// choice outlives a reload.
func TestHeardAsPianistsPlay(t *testing.T) {
	p, _, err := abc.Decode("X:1\nC:W. A. Mozart\nM:4/4\nL:1/4\nQ:1/4=60\nK:C\nTd4 | c4 |]\n")
	require.NoError(t, err)
	d := desk.New("trill", p, realize.Taste{})
	starts := func(tapping bool) (at []int64) {
		plan, err := d.Plan(tapping, 48000)
		require.NoError(t, err)
		if tapping {
			return plan.Frames
		}
		for _, n := range plan.Sequence.Notes {
			at = append(at, n.Start)
		}
		return at
	}
	tapped := starts(true)
	shaped := starts(false)
	assert.NotEqual(t, tapped, shaped)
	assert.Equal(t, tapped[0], shaped[0], "it begins where it is tapped")
	assert.Equal(t, tapped[len(tapped)-1], shaped[len(shaped)-1], "and lands there")
	d.Even = true
	assert.Equal(t, tapped, starts(true), "what is tapped is the same")
	assert.Equal(t, tapped, starts(false))
	again := desk.New("trill", p, realize.Taste{})
	again.Restore(d.Save())
	assert.True(t, again.Even)
}
