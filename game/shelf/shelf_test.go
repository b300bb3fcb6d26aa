package shelf_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/shelf"
)

func TestTheOldestGoesFirst(t *testing.T) {
	var s shelf.Shelf
	var dropped []shelf.Item
	for i := range shelf.MostItems + 2 {
		var gone []shelf.Item
		s, _, gone = s.Put(shelf.Item{Kind: shelf.File, Name: fmt.Sprint(i), Size: 10})
		dropped = append(dropped, gone...)
	}
	require.Len(t, dropped, 2)
	assert.Equal(t, "0", dropped[0].Name)
	assert.Len(t, s.Items, shelf.MostItems)
	s, first, _ := s.Put(s.Items[0])
	assert.Equal(t, first, s.Items[len(s.Items)-1], "one that is used again is the newest")
}

func TestALargeOneMakesRoomAndStaysItself(t *testing.T) {
	s, _, _ := shelf.Shelf{}.Put(shelf.Item{Name: "a", Kind: shelf.File, Size: 1})
	s, large, dropped := s.Put(shelf.Item{Name: "b", Kind: shelf.File, Size: shelf.MostSize + 1})
	assert.Len(t, dropped, 1)
	assert.Equal(t, []shelf.Item{large}, s.Items)
	_, _, ok := s.DropOldest()
	assert.False(t, ok)
}

func TestTheListComesBackAsItWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s shelf.Shelf
		ids := map[string]bool{}
		for range rapid.IntRange(0, 40).Draw(t, "items") {
			var it shelf.Item
			s, it, _ = s.Put(shelf.Item{Kind: shelf.Kind(rapid.SampledFrom([]string{"file", "paper", "typed", "task"}).Draw(t, "kind")), Name: rapid.String().Draw(t, "name"), Part: rapid.SampledFrom([]string{"", "P1+P2", "a b"}).Draw(t, "part"), Size: rapid.IntRange(0, 500_000).Draw(t, "size"),
				Title: rapid.SampledFrom([]string{"", "Air & Variations"}).Draw(t, "title"), Composer: rapid.SampledFrom([]string{"", "J. S. Bach"}).Draw(t, "composer"), Used: rapid.IntRange(0, 20782).Draw(t, "used")})
			if ids[it.ID] {
				t.Fatal("an id is given twice")
			}
			ids[it.ID] = true
			s = shelf.Parse(s.Text())
			if got, ok := s.Find(it.ID); !ok || got != it {
				t.Fatalf("%v comes back as %v", it, got)
			}
		}
	})
	// As an earlier version wrote it.
	assert.Equal(t, []shelf.Item{{ID: "kept-1", Kind: shelf.File, Name: "a b.xml", Size: 9}}, shelf.Parse("shelf 1\nkept-1 file 9 a+b.xml \n").Items)
	assert.Empty(t, shelf.Parse("nonsense\n\nx y z w").Items)
}
