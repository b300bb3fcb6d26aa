package keep_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/keep"
	"agremens/game/shelf"
)

// store takes so many letters.
type store struct {
	texts map[string]string
	room  int
}

func newStore(room int) *store { return &store{map[string]string{}, room} }

func (s *store) Load(key string) (string, bool, error) {
	text, ok := s.texts[key]
	return text, ok, nil
}

func (s *store) Save(key, text string) error {
	used := 0
	for k, other := range s.texts {
		if k != key {
			used += len(other)
		}
	}
	if used+len(text) > s.room {
		return errors.New("no room")
	}
	s.texts[key] = text
	return nil
}

func (s *store) Keys(prefix string) (all []string) {
	for key := range s.texts {
		if strings.HasPrefix(key, prefix) {
			all = append(all, key)
		}
	}
	return all
}

func (s *store) Forget(key string) error { delete(s.texts, key); return nil }

func TestWhatIsKeptIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := rapid.SliceOf(rapid.Byte()).Draw(t, "data")
		s := newStore(1 << 20)
		kept := keep.Open(s).Keep(shelf.Item{Kind: shelf.File, Name: "a.xml"}, data, nil)
		again := keep.Open(s) // after a reload
		it, ok := again.Shelf.Find(kept.ID)
		if !ok {
			t.Fatal("it is not listed")
		}
		if back, ok := again.Data(it); !ok || string(back) != string(data) {
			t.Fatalf("%v came back as %v", data, back)
		}
	})
}

func TestAFileKeepsItsID(t *testing.T) {
	p := keep.Open(newStore(1 << 20))
	it := shelf.Item{Kind: shelf.File, Name: "a.xml"}
	first := p.Keep(it, []byte("score"), nil)
	assert.Equal(t, first.ID, p.Keep(it, []byte("score"), nil).ID)
	assert.NotEqual(t, first.ID, p.Keep(it, []byte("another score"), nil).ID)
	it.Kind = shelf.Paper
	assert.NotEqual(t, first.ID, p.Keep(it, []byte("score"), nil).ID)
}

func TestWhatIsUsedIsTheNewest(t *testing.T) {
	s := newStore(1 << 20)
	p := keep.Open(s)
	first := p.Keep(shelf.Item{Kind: shelf.File, Name: "a.xml"}, []byte("score"), nil)
	p.Keep(shelf.Item{Kind: shelf.File, Name: "b.xml"}, []byte("score"), nil)
	p.Use(first.ID, "Air", "J. S. Bach", 20782)
	p.Use("kept-9", "nothing", "", 20782)
	for _, p := range []*keep.Passages{p, keep.Open(s)} {
		require.Len(t, p.Shelf.Items, 2)
		last := p.Shelf.Items[1]
		assert.Equal(t, []any{first.ID, "Air", "J. S. Bach", 20782}, []any{last.ID, last.Title, last.Composer, last.Used})
	}
	assert.Equal(t, first.ID, p.Keep(shelf.Item{Kind: shelf.File, Name: "a.xml"}, []byte("score"), nil).ID, "opened again it is the same")
}

func TestTheOldestMakeRoom(t *testing.T) {
	s := newStore(1200)
	p := keep.Open(s)
	noise := func(seed int) []byte {
		var b strings.Builder
		for i := range 300 {
			b.WriteByte(byte((i*i*7 + seed*131 + i*seed) % 251))
		}
		return []byte(b.String())
	}
	first := p.Keep(shelf.Item{Kind: shelf.File, Name: "first"}, noise(1), nil)
	require.False(t, first.NoRoom)
	require.NoError(t, s.Save("agremens.desk."+first.ID, "its desk"))
	var last keep.Kept
	for i := 2; i < 6 && len(last.Dropped) == 0; i++ {
		last = p.Keep(shelf.Item{Kind: shelf.File, Name: "later"}, noise(i), nil)
	}
	require.NotEmpty(t, last.Dropped)
	assert.Equal(t, first.ID, last.Dropped[0].ID)
	_, ok := p.Away(first.ID)
	assert.False(t, ok, "its desk goes with it")
	_, ok = p.Data(last.Dropped[0])
	assert.False(t, ok)

	tiny := keep.Open(newStore(10))
	assert.True(t, tiny.Keep(shelf.Item{Kind: shelf.File, Name: "big"}, noise(1), nil).NoRoom)
	assert.Empty(t, tiny.Shelf.Items)
}

func TestWhatCannotBeUnpackedIsLost(t *testing.T) {
	s := newStore(1 << 20)
	p := keep.Open(s)
	kept := p.Keep(shelf.Item{Kind: shelf.Typed, Name: "a"}, []byte("X:1"), nil)
	s.texts["agremens.kept."+kept.ID] = "no packed text"
	it, _ := p.Shelf.Find(kept.ID)
	_, ok := p.Data(it)
	assert.False(t, ok)
}
