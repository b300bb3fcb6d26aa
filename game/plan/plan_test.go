package plan_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/class"
	"agremens/game/plan"
	"agremens/game/practice"
	"agremens/realize/codec/packet"
)

const today = 20782 // a Wednesday

func day(ago, cold int, clean bool, reached int) class.Day {
	return class.Day{Day: today - ago, Tapped: 5, Rounds: 3, ColdTempo: cold, ColdClean: clean, Reached: reached}
}

func TestTheNextTaskFollowsFromTheLastReport(t *testing.T) {
	// The steps are common practice, no source.
	cases := []struct {
		name    string
		fault   string
		days    []class.Day
		percent float64
		first   string // kind of round
		reason  string
	}{
		{"nothing played yet", "", []class.Day{day(1, 0, false, 0)}, 100, practice.Echo, "No round with the ornaments yet."},
		{"three days at the same tempo: slower", "lands-late", []class.Day{day(3, 60, false, 0), day(2, 60, false, 0), day(1, 60, false, 0)}, 65, practice.Land,
			"The exit: the notes after the ornament are not in time. 3 days at 60."},
		{"two days: once more", "lands-late", []class.Day{day(2, 60, false, 0), day(1, 60, false, 0)}, 75, practice.Land,
			"The exit: the notes after the ornament are not in time. 2 days at 60."},
		{"clean from cold: faster", "limps", []class.Day{day(2, 56, false, 0), day(1, 60, true, 60)}, 85, practice.Inside,
			"The ornament's notes are uneven. 1 day at 60."},
		{"never past the goal", "limps", []class.Day{day(1, 80, true, 80)}, 100, practice.Inside, "The ornament's notes are uneven. 1 day at 80."},
		{"never slower than can be felt as a beat", "limps", []class.Day{day(1, 10, false, 0)}, 40, practice.Inside, "The ornament's notes are uneven. 1 day at 10."},
		{"the goal is reached and nothing is left", "", []class.Day{day(1, 76, true, 80)}, 100, practice.Alone, "Clean at the goal tempo; now at the piano."},
		{"at the piano a little below the goal", "", []class.Day{{Day: today - 1, Rounds: 1, ColdTempo: 76, Reached: 80, Played: 79}}, 100, practice.Alone, "Clean at the goal tempo; now at the piano."},
		{"the goal was reached at the piano, and a slower day followed", "", []class.Day{{Day: today - 2, Rounds: 1, ColdTempo: 76, Reached: 80, Played: 80}, {Day: today - 1, Rounds: 1, ColdTempo: 60, Reached: 60}}, 100, practice.Alone, "Clean at the goal tempo, at the piano too."},
		{"the goal is reached at the piano", "", []class.Day{{Day: today - 1, Rounds: 1, ColdTempo: 76, Reached: 80, Played: 80}}, 100, practice.Alone, "Clean at the goal tempo, at the piano too."},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := &class.Student{Name: "Ana", Works: []class.Work{{ID: "one", Title: "Air", Goal: 80, Fault: c.fault, Last: today - 1, Letters: "abc", Days: c.days}}}
			d, ok := plan.Next(s, nil)
			require.True(t, ok)
			assert.Equal(t, "one", d.Work.ID)
			assert.InDelta(t, c.percent, d.Percent, 0.01)
			assert.Equal(t, c.first, d.Kinds[0])
			assert.Equal(t, practice.Piano, d.Kinds[len(d.Kinds)-1], "it ends at the instrument")
			assert.Equal(t, c.reason, d.Reason)
		})
	}
}

func TestTheReasonNamesTheSignAndTheBar(t *testing.T) {
	s := &class.Student{Name: "Ana", Works: []class.Work{{ID: "one", Title: "Air", Goal: 80, Fault: "lands-late", Where: "5 trill", Last: today - 1, Letters: "abc",
		Days: []class.Day{day(3, 60, false, 0), day(2, 60, false, 0), day(1, 60, false, 0)}}}}
	d, ok := plan.Next(s, nil)
	require.True(t, ok)
	assert.Equal(t, "Trill in bar 5: the exit: the notes after the ornament are not in time. 3 days at 60.", d.Reason)
	s.Works[0].Where = "5 nothing"
	d, _ = plan.Next(s, nil)
	assert.Equal(t, "The exit: the notes after the ornament are not in time. 3 days at 60.", d.Reason, "a later version's sign")
}

func TestWithoutATaskThereIsNoNext(t *testing.T) {
	_, ok := plan.Next(&class.Student{Name: "Ana"}, nil)
	assert.False(t, ok)
	s := &class.Student{Name: "Ana", Works: []class.Work{{ID: "old", Letters: "abc", Last: today - 20}, {ID: "new", Last: today - 1, Days: []class.Day{day(1, 60, false, 0)}}}}
	d, ok := plan.Next(s, nil)
	assert.True(t, ok, "no report had room for the last task: the one before is there")
	assert.Equal(t, "old", d.Work.ID)
	s.Works = s.Works[1:]
	_, ok = plan.Next(s, nil)
	assert.False(t, ok)
}

func TestTheComingWeeks(t *testing.T) {
	task := packet.Task{Title: "Air", Bars: "3-4", Score: "X:1\nK:C\nC4|", Words: "Softly.", Kinds: []string{practice.Echo}}
	work := class.Work{ID: task.ID(), Title: "Air", Bars: "3-4", Goal: 80, Fault: "lands-late", Where: "3 trill", Last: today - 1, Signs: []string{"trill"},
		Letters: packet.EncodeTask(task), Days: []class.Day{day(1, 64, true, 64)}}
	s := &class.Student{Name: "Ana", Lesson: 5, Works: []class.Work{work}} // Fridays
	weeks := plan.Weeks(s, today, nil)
	require.Len(t, weeks, 2)
	for i, want := range []struct {
		begin   int
		percent float64
		kinds   []string
	}{ // 64 of 80 was clean: ten per cent more, then the goal. Common practice, no source.
		{72, 90, []string{practice.Land, practice.Tap, practice.Alone, practice.Piano}},
		{80, 100, []string{practice.Alone, practice.Piano}},
	} {
		assert.Equal(t, want.begin, weeks[i].Begin)
		assert.Equal(t, today+2+7*i, weeks[i].Day)
		got, err := packet.DecodeTask(weeks[i].Letters)
		require.NoError(t, err)
		assert.Equal(t, want.percent, got.Percent)
		assert.Equal(t, want.kinds, got.Kinds)
		assert.Equal(t, "Softly.", got.Words)
	}
	assert.Equal(t, "Trill in bar 3: the exit: the notes after the ornament are not in time. 1 day at 64.", weeks[0].Why)
	assert.Equal(t, "From 27 Nov: Air, bars 3–4", plan.Heading(weeks[0], nil))
	assert.Equal(t, "Trill · 72 to 80 · Land first, Basic round, Without help, At the piano", plan.Lines(weeks[0], nil)[0])
	assert.Contains(t, plan.Lines(weeks[1], nil)[0], "At 80")

	slow := work
	slow.Days = []class.Day{day(1, 30, false, 0)}
	s.Works = []class.Work{slow}
	assert.Len(t, plan.Weeks(s, today, nil), plan.MostWeeks)

	// What is planned comes with its lesson, and is over a week later.
	for _, p := range weeks {
		require.True(t, s.AddPlan(p, 5))
		require.True(t, s.AddPlan(p, 6))
	}
	p, ok := plan.Due(s, today)
	require.True(t, ok)
	assert.Equal(t, weeks[0].Letters, p.Letters)
	assert.Len(t, s.Coming(today), 2)
	p, _ = plan.Due(s, today+9)
	assert.Equal(t, weeks[1].Letters, p.Letters)
	assert.Empty(t, s.Coming(today+16))
	s.Unplan(weeks[0], 7)
	_, ok = plan.Due(s, today)
	assert.False(t, ok, "the second week is not yet due")
	assert.Empty(t, plan.Weeks(&class.Student{}, today, nil))
}

func TestTodaysLessons(t *testing.T) {
	work := class.Work{ID: "one", Title: "Air", Bars: "3-4", Goal: 80, Fault: "bump", Last: today - 1, Letters: "abc", Days: []class.Day{day(1, 60, false, 66)}}
	old := work
	old.Days = []class.Day{day(12, 60, false, 66)}
	old.Last = today - 12
	all := []*class.Student{
		{Name: "Ana", Lesson: 3, Works: []class.Work{work}, Note: class.Note{Text: "thumb"}},
		{Name: "Ben", Lesson: 4, Works: []class.Work{work}},
		{Name: "Cleo", Lesson: 3, Works: []class.Work{old}},
		{Name: "Dora", Lesson: 3},
	}
	lines := plan.Lessons(all, class.Weekday(today), today, nil)
	require.Len(t, lines, 3)
	assert.Equal(t, plan.Line{Name: "Ana", Task: "Air, bars 3–4", Ask: "Does it go straight on after the ornament, or is there a bump?",
		Hear: "The exit: the notes after the ornament are not in time. 66 of 80.", Note: "thumb"}, lines[0])
	assert.Equal(t, "How did it go at home? Nothing came this week.", lines[1].Ask)
	assert.Contains(t, lines[1].Hear, "Nothing since")
	assert.Equal(t, "Dora", lines[2].Name)
	assert.Empty(t, lines[2].Hear)
	assert.NotEmpty(t, lines[2].Ask)
}
