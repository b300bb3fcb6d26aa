package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

func onTheDesk(t *testing.T, text string) *desk.Desk {
	t.Helper()
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	return desk.New("x", p, realize.Taste{})
}

func TestWhatCanBeFollowedIsOffered(t *testing.T) {
	for _, tc := range []struct {
		name, text, bars string
		want             []string
	}{
		{"nothing", "K:C\nCDEF GABc|c8|]\n", "", nil},
		{"a repeat", "K:C\n|:CDEF GABc:|c8|]\n", "", []string{"once", "repeats"}},
		{"the bars after it", "K:C\n|:CDEF GABc:|c8|]\n", "2", nil},
		{"a da capo", "K:C\nCDEF GABc!fine!|c8!D.C.!|]\n", "", []string{"once", "jumps"}},
		{"both", "K:C\n|:CDEF GABc!fine!:|c8!D.C.!|]\n", "", []string{"once", "repeats", "jumps", "all"}},
	} {
		d := onTheDesk(t, tc.text)
		require.NoError(t, d.SetBars(tc.bars), tc.name)
		assert.Equal(t, tc.want, d.Follows(), tc.name)
	}
}

func TestWhatIsFollowedIsKept(t *testing.T) {
	const text = "K:C\n|:CDEF GABc!fine!:|c8!D.C.!|]\n"
	d := onTheDesk(t, text)
	assert.Empty(t, d.Apply(map[string]string{"follow": "all"}, nil))
	assert.Equal(t, score.RoadOptions{Repeats: true, Jumps: true}, d.Follow)
	assert.NotEmpty(t, d.Apply(map[string]string{"follow": "sometimes"}, nil))
	again := onTheDesk(t, text)
	again.Restore(d.Save())
	assert.Equal(t, d.Follow, again.Follow)
	require.NoError(t, again.SetBars("2"))
	assert.Equal(t, score.RoadOptions{Jumps: true}, again.Following(), "no repeat in these bars")
}

func TestThePlanFollows(t *testing.T) {
	d := onTheDesk(t, "M:4/4\nL:1/4\nQ:1/4=60\nK:C\n|:CDEF:|c4|]\n")
	once, err := d.Plan(false, 48000)
	require.NoError(t, err)
	d.Follow.Repeats = true
	twice, err := d.Plan(false, 48000)
	require.NoError(t, err)
	assert.Equal(t, int64(4*48000), twice.Sequence.Length-once.Sequence.Length)
	d.Tap = 1
	tapped, err := d.Plan(true, 48000)
	require.NoError(t, err)
	assert.Len(t, tapped.Wants, 9)
}
