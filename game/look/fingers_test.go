package look_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/look"
)

func TestFingersCanBeHidden(t *testing.T) {
	l := look.Look{}
	assert.False(t, l.NoFingers, "shown unless asked otherwise")
	l.Set("fingers", "off")
	kept := look.Restore(l.Save())
	assert.True(t, kept.NoFingers)
	kept.Set("fingers", "on")
	assert.False(t, kept.NoFingers)
}
