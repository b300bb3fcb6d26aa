package diary_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/diary"
)

// Minutes at the piano told twice count once; those of another day, player or
// passage stay.
func TestMinutesAtThePianoToldTwice(t *testing.T) {
	var d diary.Diary
	tell := func(day int, player, passage string, minutes int) {
		d.SetPiano(diary.Piano{When: diary.When{Day: day, Minute: 900}, Player: player, Passage: passage, Minutes: minutes})
	}
	d.AddPiano(diary.Piano{When: diary.When{Day: 7, Minute: 1}, Player: "Ada", Passage: "a", Minutes: 2})
	tell(6, "Ada", "a", 5)
	tell(7, "Ben", "a", 5)
	tell(7, "Ada", "b", 5)
	tell(7, "Ada", "a", 10)
	tell(7, "Ada", "a", 10)
	assert.Equal(t, 10, d.PianoOn(7, "Ada", "a"))
	assert.Equal(t, 5, d.PianoOn(6, "Ada", "a"))
	assert.Equal(t, 5, d.PianoOn(7, "Ben", "a"))
	assert.Equal(t, 5, d.PianoOn(7, "Ada", "b"))
	tell(7, "Ada", "a", 0)
	assert.Zero(t, d.PianoOn(7, "Ada", "a"))
	assert.Len(t, d.Pianos, 3)
}
