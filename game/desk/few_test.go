package desk_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"agremens/game/desk"
)

func TestFirstSentence(t *testing.T) {
	for _, c := range []struct{ text, first, rest string }{
		{"", "", ""},
		{"On the beat.", "On the beat.", ""},
		{"On the beat. The last note is held.", "On the beat.", "The last note is held."},
		{"So J. S. Bach writes it. Others do not.", "So J. S. Bach writes it.", "Others do not."},
		{"Im 18. Jahrhundert so. Heute auch.", "Im 18. Jahrhundert so.", "Heute auch."},
		{"A note of 0.5 quarters. Short.", "A note of 0.5 quarters.", "Short."},
	} {
		first, rest := desk.FirstSentence(c.text)
		assert.Equal(t, c.first, first, c.text)
		assert.Equal(t, c.rest, rest, c.text)
	}
}

func TestFirstSentenceLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([A-Za-z]{1,4}[.,]? ?){0,12}`).Draw(t, "text")
		first, rest := desk.FirstSentence(text)
		if rest == "" {
			assert.Equal(t, strings.TrimSuffix(text, " "), strings.TrimSuffix(first, " "))
			return
		}
		assert.Equal(t, text, first+" "+rest)
	})
}

func TestFewWays(t *testing.T) {
	ways := func(n, chosen int) []desk.ChoiceWords {
		w := make([]desk.ChoiceWords, n)
		if chosen >= 0 {
			w[chosen].Chosen = true
		}
		return w
	}
	for _, c := range []struct {
		n, chosen int
		few       []int
	}{
		{0, -1, nil}, {1, 0, []int{0}}, {3, 2, []int{0, 1, 2}}, {5, 0, []int{0, 1, 2}}, {5, 2, []int{0, 1, 2}}, {5, 4, []int{0, 1, 4}}, {6, 3, []int{0, 1, 3}},
	} {
		assert.Equal(t, c.few, desk.FewWays(ways(c.n, c.chosen), 3), "%d ways, %d chosen", c.n, c.chosen)
	}
}
