package sorting_test

import (
	"cmp"
	"slices"
	"testing"

	"agremens/realize/sorting"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

type card struct{ suit, number int }

// The standard library's stable sort says what is right.
func TestLikeTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cards := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) card {
			return card{rapid.IntRange(0, 5).Draw(t, "suit"), rapid.IntRange(0, 1000).Draw(t, "number")}
		}), 0, 100).Draw(t, "cards")
		bySuit := func(a, b card) int { return cmp.Compare(a.suit, b.suit) }
		want := slices.Clone(cards)
		slices.SortStableFunc(want, bySuit)
		sorting.Stable(cards, bySuit)
		assert.Equal(t, want, cards)
	})
}

func TestWhatIsInOrderCostsNothing(t *testing.T) {
	cards := make([]card, 1000)
	assert.Zero(t, testing.AllocsPerRun(10, func() {
		sorting.Stable(cards, func(a, b card) int { return a.suit - b.suit })
	}))
}

func cards() []card {
	var many []card
	for i := range 20000 {
		many = append(many, card{i * 7919 % 20011, i})
	}
	return many
}

func BenchmarkStable(b *testing.B) {
	many := cards()
	for b.Loop() {
		sorting.Stable(slices.Clone(many), func(a, b card) int { return a.suit - b.suit })
	}
}

// BenchmarkStandard is the standard library's, for comparison.
func BenchmarkStandard(b *testing.B) {
	many := cards()
	for b.Loop() {
		slices.SortStableFunc(slices.Clone(many), func(a, b card) int { return a.suit - b.suit })
	}
}
