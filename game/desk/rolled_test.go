package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

const rolledAndLeaning = `X:1
M:4/4
L:1/4
Q:1/4=72
%%score {1 2}
K:C
V:1 clef=treble
!arpeggio![CEGc]2 c d | {f}[ce]2 d c |]
V:2 clef=bass
C,4 | C,4 |]
`

func strokes(t *testing.T, p *score.Passage, keys bool) (rolled, leaning []int64, untils []float64) {
	t.Helper()
	d := desk.New("x", p, realize.Taste{})
	set := d.Round(true)
	set.Keys = keys
	plan, err := round.Build(p, d.Sounding(), nil, set, 48000)
	require.NoError(t, err)
	for i, w := range plan.Wants {
		switch {
		case w.Ornament == d.Reading.Ornaments[0].ID:
			rolled = append(rolled, plan.Frames[i])
		case w.Ornament != "":
			leaning, untils = append(leaning, plan.Frames[i]), append(untils, w.Until)
		}
	}
	return rolled, leaning, untils
}

// A tap stands for a whole rolled chord; on keys every note is wanted. The
// appoggiatura over a held chord is no roll, and says when its key comes up.
func TestARolledChordIsOneTap(t *testing.T) {
	p, _, err := abc.Decode(rolledAndLeaning)
	require.NoError(t, err)
	rolled, leaning, untils := strokes(t, p, false)
	assert.Len(t, rolled, 1)
	require.Len(t, leaning, 2, "the leaning note and its main note")
	assert.InDelta(t, float64(leaning[1])/48, untils[0], 1, "held until the main note sounds")
	assert.Zero(t, untils[1])
	rolled, _, _ = strokes(t, p, true)
	assert.Len(t, rolled, 4)
}
