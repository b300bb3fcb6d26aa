package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/desk"
	"agremens/realize"
)

// The sound follows the tradition until the player has chosen one.
func TestInstrumentFollowsTheTradition(t *testing.T) {
	d := desk.New("p", passage(t), realize.Taste{})
	for _, c := range []struct{ tradition, instrument string }{
		{"french", "harpsichord"}, {"vienna", "fortepiano"}, {"bach", "harpsichord"}, {"romantic", "fortepiano"},
	} {
		d.SetTradition(c.tradition)
		assert.Equal(t, c.instrument, d.Instrument, c.tradition)
	}
	d.SetInstrument("organ")
	d.SetTradition("bach")
	assert.Equal(t, "organ", d.Instrument, "chosen")

	again := desk.New("p", passage(t), realize.Taste{})
	again.Restore(d.Save())
	again.SetTradition("vienna")
	assert.Equal(t, "organ", again.Instrument, "still chosen after a reload")
}
