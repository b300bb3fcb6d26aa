package diary_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/diary"
)

func TestClaim(t *testing.T) {
	d := &diary.Diary{}
	d.Add(diary.Round{Passage: "task-1"})
	d.Add(diary.Round{Passage: "task-2"})
	d.Add(diary.Round{Passage: "task-1", Player: "Ben"})
	d.AddPiano(diary.Piano{Passage: "task-1", Minutes: 5})
	d.Claim("Ada", "task-1")
	var names []string
	for _, r := range d.Rounds {
		names = append(names, r.Player)
	}
	assert.Equal(t, []string{"Ada", "", "Ben"}, names, "only what had no name, of that passage")
	assert.Equal(t, "Ada", d.Pianos[0].Player)
	_, ok := d.Player("Ada")
	assert.True(t, ok)
}
