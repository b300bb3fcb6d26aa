package desk_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize/tap"
)

// One sentence and one step come first, then the answers with their numbers,
// then the figures; what is not certain is said.
func TestResultsAreToldInOrder(t *testing.T) {
	r := &tap.Result{
		Summary: "It starts late.", Next: "Tap only its first note.", Wanted: 10, Hit: 9, Missed: 1, MeanMS: 12, SpreadMS: 20,
		Ornaments: []tap.OrnamentResult{{
			Start: tap.Amount{V: 90, Known: true}, Uneven: tap.Amount{V: 0.1, Known: true}, Landing: tap.Amount{V: -10, Known: true},
			Rate: tap.Amount{V: 6.24, Known: true}, Free: true,
		}},
		Together: tap.Together{N: 6, MeanMS: 31, SpreadMS: 9}, Doubt: "Too few plain notes.",
	}
	w := desk.WordsOf(r, round.Settings{Tap: round.RightHand, Play: round.BothHands}, 600, 1, 0)
	assert.Equal(t, []string{"It starts late.", "Tap only its first note."}, w.First())
	rest := strings.Join(w.Rest(), "\n")
	for _, part := range []string{
		"Starts on its beat: 90 ms late", "Even: yes (the notes differ by 10 %)", "Lands in time: yes (10 ms early)",
		"9 of 10 notes tapped, 1 missed", "Not certain: Too few plain notes.", "6.2 notes per second",
		"31 ms after the left", "how you follow",
	} {
		assert.Contains(t, rest, part)
	}
	assert.Less(t, strings.Index(rest, "Starts on"), strings.Index(rest, "9 of 10"))
	assert.NotContains(t, rest, "The beat around it", "what was not measured is not answered")
	assert.Empty(t, desk.ResultWords{}.First())
}

// A round that does not count shows its reason and the next step, and nothing
// that reads like a verdict.
func TestASpoiltRoundShowsItsReasonAlone(t *testing.T) {
	r := &tap.Result{
		Spoilt: tap.CodeBroken, Summary: "The sound stopped.", Next: "Try again.", Wanted: 18, Hit: 18, Doubt: "The sound stopped.",
		Together: tap.Together{N: 6, MeanMS: 31, SpreadMS: 9},
	}
	w := desk.WordsOf(r, round.Settings{Tap: round.RightHand, Play: round.BothHands}, 600, 1, 0)
	assert.Equal(t, []string{"The sound stopped.", "Try again."}, w.First())
	assert.Empty(t, w.Rest())
	assert.Equal(t, "1", w.Data["gaps"], "who drives the page is told")
}
