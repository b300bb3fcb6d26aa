package inbox_test

import (
	"errors"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/inbox"
	"agremens/realize/codec/packet"
)

type store struct {
	texts map[string]string
	full  bool
}

func (s *store) Load(key string) (string, bool, error) {
	text, ok := s.texts[key]
	return text, ok, nil
}

func (s *store) Save(key, text string) error {
	if s.full {
		return errors.New("no room")
	}
	s.texts[key] = text
	return nil
}

func (s *store) Forget(key string) error { delete(s.texts, key); return nil }

func report(name, task, bars string, rounds int) string {
	return packet.EncodeReport(packet.Report{Name: name, Task: task, Title: "Minuet", Bars: bars, Goal: 96, Unaided: rounds})
}

func TestReportsAreMerged(t *testing.T) {
	first := report("Ana", "one", "1-4", 1)
	cases := []struct {
		name  string
		then  []string
		left  []int // Unaided of what is left, the newest first
		taken int
		bad   bool
	}{
		{"a later one of the same task takes its place", []string{report("Ana", "one", "1-4", 2)}, []int{2}, 1, false},
		{"another student's stands beside it", []string{report("Ben", "one", "1-4", 2)}, []int{2, 1}, 1, false},
		{"another task's stands beside it", []string{report("Ana", "two", "1-4", 2)}, []int{2, 1}, 1, false},
		{"other bars stand beside it", []string{report("Ana", "one", "5-8", 2)}, []int{2, 1}, 1, false},
		{"what cannot be read is left out", []string{"broken", report("Ben", "one", "1-4", 2)}, []int{2, 1}, 1, true},
		{"nothing but what cannot be read changes nothing", []string{"broken"}, []int{1}, 0, true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			b := inbox.Open(&store{texts: map[string]string{}})
			require.Equal(t, 1, b.Take([]string{first}).N)
			taken := b.Take(c.then)
			assert.Equal(t, c.taken, taken.N)
			assert.Equal(t, c.bad, taken.Bad != nil)
			var left []int
			for _, r := range b.Reports() {
				left = append(left, r.Unaided)
			}
			assert.Equal(t, c.left, left)
		})
	}
}

func TestTheOldestReportsGo(t *testing.T) {
	b := inbox.Open(&store{texts: map[string]string{}})
	var letters []string
	for i := range inbox.MaxReports + 1 {
		letters = append(letters, report("Ana", strconv.Itoa(i), "1", i%10))
	}
	b.Take(letters)
	all := b.Reports()
	require.Len(t, all, inbox.MaxReports)
	assert.Equal(t, strconv.Itoa(inbox.MaxReports), all[0].Task)
	assert.Equal(t, "1", all[len(all)-1].Task)
}

func TestRemovedClearedAndUnkept(t *testing.T) {
	s := &store{texts: map[string]string{}}
	b := inbox.Open(s)
	b.Take([]string{report("Ana", "one", "1", 1), report("Ben", "one", "1", 2)})
	require.NoError(t, b.Remove(b.Reports()[0].Letters))
	require.Len(t, b.Reports(), 1)
	assert.Equal(t, "Ana", b.Reports()[0].Name)
	require.NoError(t, b.Clear())
	assert.Empty(t, b.Reports())
	s.full = true
	taken := b.Take([]string{report("Ana", "one", "1", 1)})
	assert.True(t, taken.Unkept)
}
