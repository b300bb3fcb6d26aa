package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
)

// Two windows on one passage: each decides for another sign, in turn; what is
// kept holds both, and a reload of either window shows both.
func TestTwoWindowsOnOnePassage(t *testing.T) {
	kept := ""
	keep := func(before string, d *desk.Desk) string {
		mine := d.Save()
		kept = desk.Merge(before, mine, kept)
		return mine
	}
	one, two := deskOn(t, twoTrills), deskOn(t, twoTrills)
	first, second := one.Save(), two.Save()
	one.Select(0)
	one.Choose(1)
	first = keep(first, one)
	two.Select(1)
	two.Choose(2)
	second = keep(second, two)
	one.SetPercent(80)
	first = keep(first, one)

	reloaded := deskOn(t, twoTrills)
	reloaded.Restore(desk.WithDecisions(first, kept))
	require.Len(t, reloaded.Taste.Chosen, 2)
	for id, key := range one.Taste.Chosen {
		assert.Equal(t, key, reloaded.Taste.Chosen[id])
	}
	for id, key := range two.Taste.Chosen {
		assert.Equal(t, key, reloaded.Taste.Chosen[id])
	}
	assert.Equal(t, 80.0, reloaded.Percent)

	two.Forget() // taken back in its window: gone for both
	keep(second, two)
	again := deskOn(t, twoTrills)
	again.Restore(desk.WithDecisions(first, kept))
	assert.Equal(t, one.Taste.Chosen, again.Taste.Chosen)
}

func TestMergeKeepsMineWhereThereIsNothingToJoin(t *testing.T) {
	d := deskOn(t, twoTrills)
	mine := d.Save()
	for _, stored := range []string{"", mine, "passage other\n", "decisions rubbish\n"} {
		assert.Equal(t, mine, desk.Merge(mine, mine, stored))
		assert.Equal(t, mine, desk.Merge("", mine, stored))
	}
	assert.Equal(t, mine, desk.WithDecisions(mine, ""))
}
