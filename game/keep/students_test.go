package keep_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/class"
	"agremens/game/keep"
	"agremens/realize/codec/packet"
)

// today is 25 November 2026.
const today = 20782

func report(name, task string, minutes int) string {
	return packet.EncodeReport(packet.Report{Name: name, Task: task, Title: "Minuet", Goal: 80, Days: []packet.Day{{Date: "2026-11-24", Tapped: minutes, Rounds: 3, ColdTempo: 60}}})
}

func names(c *class.Class) (all []string) {
	for _, s := range c.Students {
		all = append(all, s.Name)
	}
	return all
}

func take(t *testing.T, k *keep.Students, letters ...string) {
	t.Helper()
	require.NoError(t, k.Change(func(c *class.Class) {
		for _, l := range letters {
			c.Take("", l, today)
		}
	}))
}

func TestTwoWindowsLoseNoStudent(t *testing.T) {
	s := newStore(1 << 20)
	one, two := keep.OpenStudents(s, today), keep.OpenStudents(s, today)
	take(t, one, report("Ana", "a", 5))
	take(t, two, report("Ben", "b", 5))
	take(t, one, report("Cleo", "c", 5))
	require.NoError(t, two.ChangeOne("Ana", func(s *class.Student) { s.SetNote("thumb", 10) }))
	require.NoError(t, one.ChangeOne("ana", func(s *class.Student) { s.SetLesson(2, 10) }))
	for _, k := range []*keep.Students{one, two, keep.OpenStudents(s, today)} {
		c := k.Class()
		assert.Equal(t, []string{"Ana", "Ben", "Cleo"}, names(c))
		assert.Equal(t, "thumb", c.Find("Ana").Note.Text)
		assert.Equal(t, 2, c.Find("Ana").Lesson)
	}
}

func TestTwoWindowsAddAtTheSameInstant(t *testing.T) {
	s := newStore(1 << 20)
	one, two := keep.OpenStudents(s, today), keep.OpenStudents(s, today)
	take(t, one, report("Ana", "a", 5))
	require.NoError(t, one.Change(func(c *class.Class) {
		c.Add("Ben")
		take(t, two, report("Cleo", "c", 5)) // what the first has read does not have her
	}))
	for _, k := range []*keep.Students{one, two, keep.OpenStudents(s, today)} {
		assert.Equal(t, []string{"Ana", "Ben", "Cleo"}, names(k.Class()))
	}
}

// An earlier version kept a list of names beside the students.
func TestTheListOfNamesGoes(t *testing.T) {
	s := newStore(1 << 20)
	take(t, keep.OpenStudents(s, today), report("Ana", "a", 5))
	s.texts["agremens.class"] = "ana\n"
	assert.Equal(t, []string{"Ana"}, names(keep.OpenStudents(s, today).Class()))
	assert.NotContains(t, s.texts, "agremens.class")
}

func TestAFullStoreChangesNothing(t *testing.T) {
	s := newStore(1 << 20)
	k := keep.OpenStudents(s, today)
	take(t, k, report("Ana", "a", 5), report("Ben", "b", 5))
	used := 0
	for _, text := range s.texts {
		used += len(text)
	}
	s.room = used + 120 // for one more student, not for three
	err := k.Change(func(c *class.Class) {
		c.Find("Ana").SetNote("the whole day", 10)
		for _, name := range []string{"Cleo", "Dora", "Emil"} {
			c.Take("", report(name, "c", 5), today)
		}
	})
	require.Error(t, err)
	for _, c := range []*class.Class{k.Class(), keep.OpenStudents(s, today).Class()} {
		assert.Equal(t, []string{"Ana", "Ben"}, names(c))
		assert.Empty(t, c.Find("Ana").Note.Text)
	}
}

func TestAnErasedStudentLeavesNothing(t *testing.T) {
	s := newStore(1 << 20)
	k := keep.OpenStudents(s, today)
	take(t, k, report("Ana", "a", 5), report("Ben", "b", 5))
	require.NoError(t, k.Change(func(c *class.Class) { c.Rename("Ben", "Benedikt") }))
	require.NoError(t, k.Change(func(c *class.Class) { c.Erase("Ana", 100) }))
	assert.Equal(t, []string{"Benedikt"}, names(k.Class()))
	for key, text := range s.texts {
		assert.NotContains(t, strings.ToLower(key+text), "ana\n", key)
		assert.False(t, strings.HasSuffix(key, ".ana"), key)
	}
	require.NoError(t, k.Change(func(c *class.Class) { c.Erase("Benedikt", 101) }))
	require.Len(t, s.texts, 1, "what keeps older files from bringing them back")
	for _, text := range s.texts {
		assert.NotRegexp(t, "(?i)ana|ben", text)
		assert.Less(t, len(text), 200)
	}
}

func TestReportsOfAnEarlierVersionAreTakenIn(t *testing.T) {
	s := newStore(1 << 20)
	old := []string{report("Ana", "b", 9), "broken", report("Ana", "a", 5), report("Ben", "a", 5)} // the newest first
	s.texts[keep.ReportsKey] = strings.Join(old, "\n")
	c := keep.OpenStudents(s, today).Class()
	assert.Equal(t, []string{"Ana", "Ben"}, names(c))
	assert.Len(t, c.Find("Ana").Works, 2)
	assert.NotContains(t, s.texts, keep.ReportsKey)

	full := newStore(0)
	full.texts[keep.ReportsKey] = strings.Join(old, "\n")
	keep.OpenStudents(full, today)
	assert.Contains(t, full.texts, keep.ReportsKey, "what has no room in the class stays where it is")
}

func TestADamagedStudentIsPutAside(t *testing.T) {
	s := newStore(1 << 20)
	k := keep.OpenStudents(s, today)
	take(t, k, report("Ana", "a", 5), report("Ben", "b", 5))
	was := s.texts["agremens.class.ana"]
	s.texts["agremens.class.ana"] = was[:len(was)-10]
	c := keep.OpenStudents(s, today).Class()
	assert.True(t, slices.Contains(names(c), "Ben"))
	assert.Equal(t, was[:len(was)-10], s.texts["agremens.damaged.ana"])
}
