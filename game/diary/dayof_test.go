package diary_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"agremens/game/diary"
)

func TestDayOf(t *testing.T) {
	for date, want := range map[string]int{
		"1970-01-01": 0, "1970-02-28": 58, "2000-02-29": 11016, "2026-11-29": 20786, // counted by the calendar
	} {
		got, ok := diary.DayOf(date)
		assert.True(t, ok, date)
		assert.Equal(t, want, got, date)
	}
	for _, date := range []string{"", "2026-11-2", "2026-02-30", "2026-13-01", "2026-00-01", "2026-01-00", "2026/01/01", "abcd-01-01", "2026-11-29 ", "-026-11-29"} {
		_, ok := diary.DayOf(date)
		assert.False(t, ok, date)
	}
	rapid.Check(t, func(t *rapid.T) {
		day := rapid.IntRange(0, 200000).Draw(t, "day")
		got, ok := diary.DayOf(diary.When{Day: day}.Date())
		assert.True(t, ok)
		assert.Equal(t, day, got)
	})
}
