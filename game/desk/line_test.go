package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/realize"
)

// The line as played opens and closes sign by sign, and stays so.
func TestLinesOpenAndCloseSignBySign(t *testing.T) {
	d := open(t)
	require.GreaterOrEqual(t, len(d.Reading.Ornaments), 2)
	assert.True(t, d.LineOpen())
	assert.Nil(t, d.Lines(), "all are open")
	d.Select(1)
	d.SetLine(false)
	assert.False(t, d.LineOpen())
	assert.Len(t, d.Lines(), len(d.Reading.Ornaments)-1)
	assert.NotContains(t, d.Lines(), d.Reading.Ornaments[1].ID)
	d.Select(0)
	assert.True(t, d.LineOpen(), "the others stay open")

	again := desk.New(d.ID, d.Passage, realize.Taste{})
	again.Restore(d.Save())
	assert.Equal(t, d.Lines(), again.Lines())
	d.Select(1)
	d.SetLine(true)
	assert.Nil(t, d.Lines())
	d.SetOrnaments(false)
	assert.False(t, d.LineOpen(), "plain notes have no line")
}
