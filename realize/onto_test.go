package realize_test

import (
	"fmt"
	"maps"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/score"
)

func TestDecisionsOfTwoWindowsAreJoined(t *testing.T) {
	before := realize.Taste{Tempo: 60, Tradition: "vienna", Chosen: map[score.ID]string{"n1": "trill.upper", "n2": "turn.held"}}
	mine := before
	mine.Chosen = map[score.ID]string{"n1": "trill.main", "n3": "mordent.two"} // n1 changed, n2 forgotten, n3 new
	mine.Tempo = 72
	theirs := before
	theirs.Chosen = map[score.ID]string{"n1": "trill.upper", "n2": "turn.held", "n4": "plain"} // n4 new
	theirs.Tradition = "berlin"
	got := mine.Onto(before, theirs)
	assert.Equal(t, map[score.ID]string{"n1": "trill.main", "n3": "mordent.two", "n4": "plain"}, got.Chosen)
	assert.Equal(t, 72.0, got.Tempo)
	assert.Equal(t, "berlin", got.Tradition)
}

// Where the two windows touched different places nothing is lost, whichever
// is written last.
func TestJoiningLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := rapid.StringMatching(`[abc]\.[xyz]`)
		decided := func(name, prefix string) map[score.ID]string {
			out := map[score.ID]string{}
			for i := range rapid.IntRange(0, 5).Draw(t, name) {
				out[score.ID(fmt.Sprint(prefix, i))] = key.Draw(t, "key")
			}
			return out
		}
		before := realize.Taste{Chosen: decided("before", "n")}
		mine, theirs := before, before
		mine.Chosen, theirs.Chosen = maps.Clone(before.Chosen), maps.Clone(before.Chosen)
		maps.Copy(mine.Chosen, decided("mine", "m"))
		maps.Copy(theirs.Chosen, decided("theirs", "t"))
		want := maps.Clone(mine.Chosen)
		maps.Copy(want, theirs.Chosen)
		if len(want) == 0 {
			want = nil
		}
		assert.Equal(t, want, mine.Onto(before, theirs).Chosen)
		assert.Equal(t, want, theirs.Onto(before, mine).Chosen)
		// Nobody else wrote: mine stands as it is.
		assert.Equal(t, mine.Text(), mine.Onto(before, before).Text())
	})
}
