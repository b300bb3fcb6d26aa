package class_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/class"
)

func TestSummaryOfWhatCame(t *testing.T) {
	came := func(all ...class.Outcome) (out []class.Came) {
		for _, o := range all {
			out = append(out, class.Came{Outcome: o})
		}
		return out
	}
	for _, tt := range []struct {
		came []class.Came
		want string
	}{
		{nil, ""},
		{came(class.Taken), "1 taken."},
		{came(class.Taken, class.Joined, class.Again), "2 taken, 1 here already."},
		{came(class.Refused, class.Full, class.Erased), "3 not taken."},
		{came(class.Again, class.Refused, class.Taken), "1 taken, 1 here already, 1 not taken."},
	} {
		assert.Equal(t, tt.want, class.Summary(tt.came, nil))
	}
}

func TestWhatCameInWords(t *testing.T) {
	for _, tt := range []struct {
		came class.Came
		want string
	}{
		{class.Came{Outcome: class.Taken, Student: "Ana", Title: "Air", Bars: "1-4", Days: 1, New: true}, "Ana, Air, bars 1–4: 1 new day. New in the class."},
		{class.Came{Outcome: class.Taken, Title: "Air", Older: true}, "(no name), Air: no new day. An earlier task."},
		{class.Came{Outcome: class.Taken, Student: "Ana", Days: 2, Damaged: 1}, "Ana, Untitled: 2 new days. Some numbers in this report make no sense and are left out."},
		{class.Came{Outcome: class.Again, From: "a.txt", Student: "Ana", Title: "Air"}, "“a.txt”: Ana, Air: it is here already."},
		{class.Came{Outcome: class.Joined, Days: 2, Damaged: 1}, "a class of 2 students, joined with this one. 1 line in it is damaged or missing and was left out."},
		{class.Came{Outcome: class.Joined, Days: 1}, "a class of 1 student, joined with this one."},
		{class.Came{Outcome: class.Refused, Why: errors.New("it is empty")}, "not taken. It is empty."},
	} {
		assert.Equal(t, tt.want, tt.came.Words(nil))
	}
}

func TestTempoAgainstTheGoal(t *testing.T) {
	for _, tt := range []struct {
		row  class.Row
		want string
	}{
		{class.Row{}, ""},
		{class.Row{Work: &class.Work{Goal: 80}}, ""}, // nothing came yet
		{class.Row{Work: &class.Work{Goal: 80, Last: today}}, "none clean yet"},
		{class.Row{Work: &class.Work{Last: today}, Clean: 72}, "72"},
		{class.Row{Work: &class.Work{Goal: 80, Last: today}, Clean: 72}, "72 of 80"},
	} {
		assert.Equal(t, tt.want, tt.row.Tempo(nil))
	}
}

func TestLessonDays(t *testing.T) {
	for lesson, want := range map[int]string{0: "", 1: "Monday", 7: "Sunday"} {
		assert.Equal(t, want, (&class.Student{Lesson: lesson}).LessonDay(nil))
	}
}

// A piece practised in two tasks is one line; the one practised last comes first.
func TestWhatHasStayed(t *testing.T) {
	s := student("Ana",
		class.Work{ID: "a", Title: "Air", Goal: 90, Days: []class.Day{on(9, class.Day{ColdTempo: 50, Reached: 60}), on(8, class.Day{ColdTempo: 60, Reached: 72, ColdClean: true})}},
		class.Work{ID: "b", Title: "Bourrée", Goal: 70, Days: []class.Day{on(1, class.Day{ColdTempo: 44})}},
		class.Work{ID: "c", Title: "Air", Goal: 100, Days: []class.Day{on(12, class.Day{ColdTempo: 40})}},
		class.Work{ID: "d", Title: "Gavotte"})
	all := s.Pieces(nil)
	require.Len(t, all, 2, "a piece never practised has left nothing")
	assert.Equal(t, "Bourrée", all[0].Name)
	air := all[1]
	assert.Equal(t, [6]int{3, 40, 60, 72, 100, 1}, [6]int{air.Days, air.First, air.Latest, air.Reached, air.Goal, map[bool]int{true: 1}[air.LatestClean]})
}
