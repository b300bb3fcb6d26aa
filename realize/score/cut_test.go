package score_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize/music"
	"agremens/realize/score"
)

// A cut keeps its promises and every note of its measures; the whole passage
// cut out of itself is the passage.
func TestCutKeepsItsMeasures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPassage(t)
		before := p.Format()
		from := rapid.IntRange(0, len(p.Measures)-1).Draw(t, "from")
		to := rapid.IntRange(from+1, len(p.Measures)).Draw(t, "to")
		q := p.Cut(from, to)
		require.NoError(t, q.Check())
		assert.Equal(t, before, p.Format(), "the passage it was cut from changed")
		assert.Equal(t, p.Cut(0, len(p.Measures)).Format(), before)

		start := p.Measures[from].Onset
		assert.Equal(t, p.Measures[to-1].End().Sub(start), q.End())
		var want, got []score.ID
		for i := range p.Chords {
			for _, n := range p.Chords[i].Notes {
				if m := p.Chords[i].Measure; m >= from && m < to {
					want = append(want, n.ID)
				}
			}
		}
		for i := range q.Chords {
			for _, n := range q.Chords[i].Notes {
				got = append(got, n.ID)
				r, _ := p.Find(n.ID)
				assert.Equal(t, p.Chords[r.Chord].Onset.Sub(start), q.Chords[i].Onset)
			}
		}
		assert.Equal(t, want, got)
	})
}

// What is in force at the edge is kept; what crosses it ends there (common
// practice, no source).
func TestCutEdges(t *testing.T) {
	p := decode(t, `X:1
M:4/4
L:1/4
Q:1/4=60
K:G
V:1 clef=treble
[V:1] (G4- | G2 A2) | [K:G clef=bass] B,4- | B,4 |
`)
	p.Marks = []score.Mark{{Kind: score.OctaveShift, Size: 8, Staff: 1, Onset: music.Int(2), End: music.Int(10)}}
	q := p.Cut(1, 3)
	require.Len(t, q.Measures, 2)
	first, last := q.Chords[0], q.Chords[len(q.Chords)-1]
	assert.False(t, first.Notes[0].TieStop, "a tie from before")
	assert.False(t, last.Notes[0].TieStart, "a tie to after")
	assert.Empty(t, q.Slurs, "a slur from before")
	require.Len(t, q.Tempos, 1)
	assert.Equal(t, 60.0, q.Tempos[0].QuartersPerMinute)
	assert.Equal(t, []score.Clef{{Staff: 1, Sign: "G", Line: 2}, {Staff: 1, Sign: "F", Line: 4, Onset: music.Int(4)}}, q.Clefs)
	assert.Equal(t, []score.Mark{{Kind: score.OctaveShift, Size: 8, Staff: 1, Onset: music.Int(0), End: music.Int(6)}}, q.Marks)
	assert.Equal(t, "F", p.Cut(2, 4).Clefs[0].Sign, "the clef in force")
	assert.Panics(t, func() { p.Cut(2, 2) })
}
