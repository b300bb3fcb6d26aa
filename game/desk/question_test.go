package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/realize"
)

// A score that says neither tempo nor date asks for both; each answer is
// kept, changes what is read, and the question goes.
func TestAnswersSettleQuestionsForGood(t *testing.T) {
	const bare = "X:1\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n[V:R] Td2 c2 |]\n[V:L] z4 |]\n"
	d := desk.New("bare", passageOf(bare), realize.Taste{})
	require.NotEmpty(t, d.Reading.Questions)
	require.LessOrEqual(t, len(d.Reading.Questions), realize.MostQuestions)
	goal, asked := d.Goal(), len(d.Reading.Questions)
	for i, q := range d.Reading.Questions {
		if q.About == realize.AboutTempo {
			d.Answer(i, 1)
			break
		}
	}
	assert.Less(t, d.Goal(), goal, "slower")
	assert.Len(t, d.Reading.Questions, asked-1)
	again := desk.New("bare", passageOf(bare), realize.Taste{})
	again.Restore(d.Save())
	assert.Len(t, again.Reading.Questions, asked-1, "the answer is kept")
	assert.InDelta(t, d.Goal(), again.Goal(), 1e-9)
	for range asked {
		d.Answer(0, 0)
	}
	assert.Empty(t, d.Reading.Questions)
	for d.CanUndo() {
		d.Undo()
	}
	assert.Len(t, d.Reading.Questions, asked)
	assert.InDelta(t, goal, d.Goal(), 1e-9)
}
