package engrave_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
)

// A run of notes too short for any printed value stands under one number with
// four beams, and its notes follow each other without a gap, so that they are
// beamed and not flagged one by one. Common practice, no source.
func TestRunsTooShortForTheirValues(t *testing.T) {
	const n = 47
	c := &realize.Choice{}
	for i := range n {
		c.Notes = append(c.Notes, realize.Note{Onset: music.F(int64(i), 4*n), Dur: music.F(1, 4*n), Pitch: music.MustPitch("C5")})
	}
	chords, _, tuplets := engrave.WriteOut(c, &realize.Ornament{Notated: music.F(1, 4)})
	require.Len(t, chords, n)
	for i := range chords {
		assert.Equal(t, score.N64th, chords[i].Value.Type)
		if i > 0 {
			assert.Equal(t, chords[i-1].End(), chords[i].Onset)
		}
	}
	require.Len(t, tuplets, 1)
	assert.Equal(t, n, tuplets[0].Actual)
}
