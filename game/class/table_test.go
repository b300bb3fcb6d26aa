package class_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/class"
	"agremens/game/diary"
)

func on(ago int, more class.Day) class.Day {
	more.Day = today - ago
	return more
}

func student(name string, works ...class.Work) *class.Student {
	return &class.Student{Name: name, Works: works}
}

func TestWeeksEndWithToday(t *testing.T) {
	s := student("Ana", class.Work{ID: "a", Days: []class.Day{on(27, class.Day{Tapped: 1}), on(7, class.Day{Tapped: 2, Piano: 3}), on(6, class.Day{Tapped: 4}), on(0, class.Day{Tapped: 5})}},
		class.Work{ID: "b", Days: []class.Day{on(28, class.Day{Tapped: 100}), on(6, class.Day{Piano: 10})}})
	r := s.Row(today, 4)
	var got [][2]int
	for i := range r.Weeks {
		got = append(got, [2]int{r.Weeks[i].Days, r.Weeks[i].Minutes()})
	}
	assert.Equal(t, [][2]int{{1, 1}, {0, 0}, {1, 5}, {2, 19}}, got, "two tasks of one day are one day")
}

func TestWhoNeedsALook(t *testing.T) {
	work := func(w class.Work) class.Work {
		for _, d := range w.Days {
			w.Last = max(w.Last, d.Day)
		}
		return w
	}
	cases := []struct {
		name    string
		student *class.Student
		want    class.Look
		left    string
	}{
		{"no task yet", student("Ana"), class.Fine, ""},
		{"practised, something left", student("Ana", work(class.Work{ID: "a", Goal: 80, Fault: "bump", Days: []class.Day{on(3, class.Day{Reached: 70})}})), class.Fine,
			"The exit: the notes after the ornament are not in time."},
		{"nothing for a week", student("Ana", work(class.Work{ID: "a", Days: []class.Day{on(7, class.Day{Rounds: 1})}})), class.Silent, "Nothing since 18 Nov"},
		{"given two days ago, nothing yet", student("Ana", class.Work{ID: "a", Sent: today - 2}), class.Silent, "Nothing came."},
		{"given yesterday", student("Ana", class.Work{ID: "a", Sent: today - 1}), class.Fine, ""},
		{"at the goal", student("Ana", work(class.Work{ID: "a", Goal: 80, Fault: "bump", Days: []class.Day{on(1, class.Day{Reached: 80})}})), class.Ready, "Goal reached."},
		{"a step under it", student("Ana", work(class.Work{ID: "a", Goal: 80, Days: []class.Day{on(1, class.Day{Reached: 79})}})), class.Fine, ""},
		{"the same left after a week", student("Ana", work(class.Work{ID: "a", Fault: "bump", Days: []class.Day{on(8, class.Day{Rounds: 1}), on(1, class.Day{Rounds: 1})}})), class.Stuck,
			"The exit: the notes after the ornament are not in time. As before."},
		{"the same left as in the task before", student("Ana", work(class.Work{ID: "a", Fault: "bump", Days: []class.Day{on(8, class.Day{Rounds: 1})}}),
			work(class.Work{ID: "b", Fault: "bump", Days: []class.Day{on(1, class.Day{Rounds: 1})}})), class.Stuck, ""},
		{"another left", student("Ana", work(class.Work{ID: "a", Fault: "limps", Days: []class.Day{on(8, class.Day{Rounds: 1})}}),
			work(class.Work{ID: "b", Fault: "bump", Days: []class.Day{on(1, class.Day{Rounds: 1})}})), class.Fine, ""},
		{"nobody named", student("", work(class.Work{ID: "a", Days: []class.Day{on(1, class.Day{Rounds: 1})}})), class.Nameless, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := c.student.Row(today, 4)
			assert.Equal(t, c.want, r.Look)
			if c.left != "" {
				assert.Equal(t, c.left, r.Left(nil))
			}
		})
	}
}

func TestSortedAndFiltered(t *testing.T) {
	late := student("zoe", class.Work{ID: "a", Last: today - 9, Days: []class.Day{on(9, class.Day{Rounds: 1})}})
	late.Lesson = 2
	ben := student("Ben")
	ben.Lesson = 1
	c := &class.Class{Students: []*class.Student{student("Ana"), ben, late}}
	names := func(by class.Order, f class.Filter) (all []string) {
		for _, r := range class.Arrange(c.Table(today, 4), by, f) {
			all = append(all, r.Student.Name)
		}
		return all
	}
	assert.Equal(t, []string{"Ana", "Ben", "zoe"}, names(class.ByName, class.Filter{}))
	assert.Equal(t, []string{"Ben", "zoe", "Ana"}, names(class.ByLesson, class.Filter{}), "who has no day comes last")
	assert.Equal(t, []string{"zoe", "Ana", "Ben"}, names(class.ByLook, class.Filter{}))
	assert.Equal(t, []string{"zoe"}, names(class.ByName, class.Filter{Look: true}))
	assert.Equal(t, []string{"Ben"}, names(class.ByName, class.Filter{Lesson: 1}))
	assert.Equal(t, []string{"Ana"}, names(class.ByName, class.Filter{Name: " AN"}))
}

func TestTheLogAndTheReportsAreOneHistory(t *testing.T) {
	d := &diary.Diary{}
	played := func(player, passage string, ago int, beats float64) {
		d.Add(diary.Round{When: diary.When{Day: today - ago}, Player: player, Passage: passage, Title: "Minuet", Beats: beats, Goal: 80, Seconds: 60, Starts: []float64{20}})
	}
	played("Ana", "task-one", 2, 60) // what her report tells too
	played("Ana", "task-one", 0, 64) // in the lesson, on this device
	played("Annie", "turn", 1, 50)
	played("", "turn", 1, 50)
	played("Ben", "turn", 1, 50)
	s := student("Ana", class.Work{ID: "one", Title: "Minuet", Goal: 80, Days: []class.Day{on(2, class.Day{Tapped: 1, Rounds: 1, ColdTempo: 60, ColdLate: 20})}})
	s.Also = []string{"Annie"}
	before := class.Encode(s)
	both := s.WithLog(d)
	require.Len(t, both.Works, 2)
	one := both.Work("one").Told()
	require.Len(t, one, 2)
	assert.Equal(t, 1, one[0].Rounds, "told by both, counted once")
	assert.Equal(t, before, class.Encode(s), "the class itself is as it was")
	pieces := both.Pieces(nil)
	require.Len(t, pieces, 1)
	assert.Equal(t, 3, pieces[0].Days)
	assert.Equal(t, 64, pieces[0].Latest)
}

// Rounds at the instrument are the real thing: they stand first, and reach the
// goal too.
func TestThePianoComesFirst(t *testing.T) {
	for name, tt := range map[string]struct {
		goal int
		days []class.Day
		says string
		look class.Look
	}{
		"tapped only":              {80, []class.Day{on(1, class.Day{Reached: 72})}, "72 of 80", class.Fine},
		"played as fast":           {80, []class.Day{on(1, class.Day{Reached: 72, Played: 72})}, "72 of 80, at the piano", class.Fine},
		"tapped faster":            {80, []class.Day{on(1, class.Day{Reached: 72, Played: 66})}, "66 of 80, at the piano; tapped 72", class.Fine},
		"played days ago":          {80, []class.Day{on(3, class.Day{Reached: 66, Played: 66}), on(1, class.Day{Reached: 72})}, "66 of 80, at the piano; tapped 72", class.Fine},
		"played, a step under it":  {80, []class.Day{on(1, class.Day{Played: 79})}, "79 of 80, at the piano", class.Fine},
		"the goal at the piano":    {80, []class.Day{on(1, class.Day{Played: 80})}, "80 of 80, at the piano", class.Ready},
		"no goal":                  {0, []class.Day{on(1, class.Day{Reached: 72, Played: 66})}, "66, at the piano; tapped 72", class.Fine},
		"nothing clean in any way": {80, []class.Day{on(1, class.Day{Rounds: 2})}, "none clean yet", class.Fine},
	} {
		r := student("Ana", class.Work{ID: "a", Goal: tt.goal, Last: today - 1, Days: tt.days}).Row(today, 4)
		assert.Equal(t, tt.says, r.Tempo(nil), name)
		assert.Equal(t, tt.look, r.Look, name)
	}
}
