package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/desk"
)

func TestAPlaceIsFoundInTheText(t *testing.T) {
	const text = "K:C\nc ä x\nd"
	for _, tc := range []struct {
		name                 string
		line, column         int
		before, marked, rest string
		from, to             int
	}{
		{"a letter after one of two bytes", 2, 5, "c ä ", "x", "", 8, 9},
		{"the end of a line", 2, 99, "c ä x", "", "", 9, 9},
		{"past the last line", 9, 1, "", "d", "", 10, 11},
		{"nowhere", 0, 0, "", "K", ":C", 0, 1},
	} {
		p := desk.FindPlace(text, tc.line, tc.column)
		assert.Equal(t, desk.TextPlace{Before: tc.before, Marked: tc.marked, After: tc.rest, From: tc.from, To: tc.to}, p, tc.name)
	}
}
