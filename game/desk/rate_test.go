package desk_test

import (
	"testing"

	"agremens/game/desk"
	"agremens/realize"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const trills = `X:1
M:4/4
L:1/4
Q:1/4=90
K:C
V:1 clef=treble
!trill!c2 d2 | !trill!e4 | c4 |]
V:2 clef=bass
C E G E | C E G E | C4 |]
`

// A slower player gets fewer notes, and is told which signs that touches; the
// list is that of the reading itself, taken once more at the new rate.
func TestAtRate(t *testing.T) {
	d := desk.New("trills", passageOf(trills), realize.Taste{})
	assert.Empty(t, d.AtRate(d.Rate()), "the same rate changes nothing")
	changes := d.AtRate(3)
	require.NotEmpty(t, changes)
	counts := func() []int {
		var n []int
		for i := range d.Reading.Ornaments {
			o := &d.Reading.Ornaments[i]
			n = append(n, len(o.Choices[o.Chosen].Notes))
		}
		return n
	}
	before := counts()
	require.True(t, d.SetRate(3))
	different, fewer := 0, 0
	for i, n := range counts() {
		if n != before[i] {
			different++
		}
		if n < before[i] {
			fewer++
		}
	}
	assert.LessOrEqual(t, different, len(changes))
	assert.Positive(t, fewer)
	assert.Empty(t, d.AtRate(3))
	assert.Regexp(t, `^Bar \S+: .+, \d+ notes?; now .+, \d+ notes?$`, changes[0])
}

// A passage that was put away by a slower player is read at the rate of the
// one who plays now.
func TestPlayersOwnRateOutlastsASavedDesk(t *testing.T) {
	before := desk.New("trills", passageOf(trills), realize.Taste{Rate: 3})
	before.Choose(1)
	d := desk.New("trills", passageOf(trills), realize.Taste{Rate: 9})
	d.Restore(before.Save())
	assert.Equal(t, 3.0, d.Rate(), "nobody is known")
	d = desk.New("trills", passageOf(trills), realize.Taste{Rate: 9})
	d.RestoreFor(9, before.Save(), nil)
	assert.Equal(t, 9.0, d.Rate())
	assert.Empty(t, d.AtRate(9), "the reading follows")
	require.True(t, d.CanUndo())
	d.Undo()
	assert.False(t, d.CanUndo(), "the choice alone is a step")
}
