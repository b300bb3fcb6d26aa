package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize/music"
)

// Felt beats by metre (common practice, no source).
func TestMetre(t *testing.T) {
	for _, tc := range []struct {
		metre    music.Metre
		bar      music.Frac
		beat     music.Frac
		compound bool
	}{
		{music.Metre{}, music.Int(4), music.Int(1), false},
		{music.Metre{Beats: 2, Unit: 4}, music.Int(2), music.Int(1), false},
		{music.Metre{Beats: 3, Unit: 4}, music.Int(3), music.Int(1), false},
		{music.Metre{Beats: 2, Unit: 2}, music.Int(4), music.Int(2), false},
		{music.Metre{Beats: 3, Unit: 8}, music.F(3, 2), music.F(1, 2), false},
		{music.Metre{Beats: 6, Unit: 8}, music.Int(3), music.F(3, 2), true},
		{music.Metre{Beats: 9, Unit: 8}, music.F(9, 2), music.F(3, 2), true},
		{music.Metre{Beats: 12, Unit: 16}, music.Int(3), music.F(3, 4), true},
		{music.Metre{Beats: 6, Unit: 4}, music.Int(6), music.Int(3), true},
		{music.Metre{Beats: 5, Unit: 8}, music.F(5, 2), music.F(1, 2), false},
	} {
		assert.Equal(t, tc.bar, tc.metre.Bar(), tc.metre)
		assert.Equal(t, tc.beat, tc.metre.Beat(), tc.metre)
		assert.Equal(t, tc.compound, tc.metre.Compound(), tc.metre)
	}
}
