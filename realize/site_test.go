package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
)

// TestSmallNotesCloseATrillThroughItsTie: small notes after the last of two
// tied notes end the trill that began on the first; they are no ornament of
// their own. Common practice, no source.
func TestSmallNotesCloseATrillThroughItsTie(t *testing.T) {
	d := music.MustPitch("D5")
	whole := score.Value{Type: score.Whole}
	p := &score.Passage{
		Part: "P1", Staves: 1,
		Measures: []score.Measure{
			{Number: "1", Length: music.Int(4), Metre: music.Metre{Beats: 4, Unit: 4}},
			{Number: "2", Onset: music.Int(4), Length: music.Int(4), Metre: music.Metre{Beats: 4, Unit: 4}},
		},
		Chords: []score.Chord{
			{Dur: music.Int(4), Value: whole, Staff: 1, Voice: "1",
				Notes: []score.Note{{ID: "first", Pitch: d, Staff: 1, TieStart: true}}, Signs: []score.Sign{{Kind: score.TrillMark}}},
			{Measure: 1, Onset: music.Int(4), Dur: music.Int(4), Value: whole, Staff: 1, Voice: "1",
				Notes: []score.Note{{ID: "last", Pitch: d, Staff: 1, TieStop: true}}},
			{Measure: 1, Onset: music.Int(8), Staff: 1, Voice: "1", Grace: &score.Grace{After: true},
				Notes: []score.Note{{ID: "g1", Pitch: music.MustPitch("C5"), Staff: 1}}},
			{Measure: 1, Onset: music.Int(8), Staff: 1, Voice: "1", Grace: &score.Grace{After: true},
				Notes: []score.Note{{ID: "g2", Pitch: d, Staff: 1}}},
		},
	}
	require.NoError(t, p.Check())
	r := realize.Read(p, realize.Taste{})
	require.Len(t, r.Ornaments, 1)
	o := r.Ornaments[0]
	assert.Equal(t, score.ID("first"), o.Note)
	assert.Equal(t, []string{"trill-mark", "grace"}, o.Signs)
	notes := o.Choices[0].Notes
	assert.Equal(t, "C5", notes[len(notes)-2].Pitch.String())
	last := notes[len(notes)-1]
	assert.Equal(t, "D5", last.Pitch.String())
	assert.Equal(t, music.Int(8), last.Onset.Add(last.Dur), "the ending fills both notes")
}
