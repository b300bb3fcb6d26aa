package listening_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/listening"
)

func TestRecordingsByName(t *testing.T) {
	for name, want := range map[string]bool{
		"lesson.wav": true, "Lesson 3.M4A": true, "take.mid": true, "take.MIDI": true,
		"air.abc": false, "air.mxl": false, "wav": false, "air.wav.zip": false, "": false,
	} {
		assert.Equal(t, want, listening.Recording(name), name)
	}
}
