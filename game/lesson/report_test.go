package lesson_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
)

func practisedWeek(passage string) *diary.Diary {
	d := &diary.Diary{}
	round := func(day, minute int, beats float64, start float64, clean, unaided bool) {
		d.Add(diary.Round{When: diary.When{Day: day, Minute: minute}, Player: "Ada", Passage: passage, Title: "An Air", Bars: "1-4",
			Hand: "right", Beats: beats, Goal: 72, Seconds: 50, Wanted: 20, Hit: 20, Starts: []float64{start, start}, Clean: clean,
			Certain: true, Unaided: unaided, Fault: map[bool]string{false: "late-start"}[clean]})
	}
	const monday = 20781 // 24 November 2026
	round(monday, 960, 48, 80, false, false)
	round(monday, 962, 48, 60, true, false)
	round(monday+1, 960, 54, 70, false, false)
	round(monday+1, 965, 60, 20, true, true)
	round(monday+1, 970, 72, 90, false, true)
	d.AddPiano(diary.Piano{When: diary.When{Day: monday + 2, Minute: 10}, Player: "Ada", Passage: passage, Minutes: 8})
	d.Add(diary.Round{When: diary.When{Day: monday, Minute: 1}, Player: "Ben", Passage: passage, Beats: 200, Seconds: 999, Clean: true})
	return d
}

func TestReportSumsUpAndReads(t *testing.T) {
	task, err := lesson.Set(deskOf(t, assets.Passages()[1]), lesson.Wish{})
	require.NoError(t, err)
	r := lesson.Report(practisedWeek(lesson.DeskID(task)), "Ada", task)
	letters := packet.EncodeReport(r)
	assert.LessOrEqual(t, len(letters), packet.MaxReport)
	got, err := packet.DecodeReport(letters)
	require.NoError(t, err)
	l := lesson.Read(got, nil)
	assert.Equal(t, "Ada: An Air for Trills, bars 1–8", l.Heading)
	assert.Equal(t, "3 days, 5 minutes of tapping, 8 minutes at the piano (student's figure).", l.Time)
	assert.Equal(t, "First round of the day, cold: 48, 54; goal 72 beats per minute. Most recently the ornaments started about 70 ms late. Without help: 1 of 2 rounds clean.", l.Cold)
	assert.Equal(t, "Left to do: the ornament starts after the other hand.", l.Left)
	assert.Equal(t, "Ask: does the ornament's first note sound together with the left hand?", l.Ask)
	assert.Equal(t, []string{
		"2026-11-24: 2 rounds, 1 clean, 2 minutes; first at 48, clean at 48 of 72.",
		"2026-11-25: 3 rounds, 1 clean, 3 minutes; first at 54, clean at 60 of 72.",
		"2026-11-26: 0 rounds, 0 minutes, 8 minutes at the piano.",
	}, l.Days)
}

func TestEmptyReport(t *testing.T) {
	task, err := lesson.Set(deskOf(t, assets.Passages()[0]), lesson.Wish{})
	require.NoError(t, err)
	l := lesson.Read(lesson.Report(&diary.Diary{}, "", task), nil)
	assert.Equal(t, "No round yet.", l.Time)
	assert.Empty(t, l.Days)
	assert.NotContains(t, l.Heading, ":")
}

// Nobody whose ornaments were never judged is told that nothing is left to do.
func TestNothingHeardIsNothingDone(t *testing.T) {
	task, err := lesson.Set(deskOf(t, assets.Passages()[1]), lesson.Wish{})
	require.NoError(t, err)
	passage := lesson.DeskID(task)
	at := diary.When{Day: 20781, Minute: 960}
	for _, tt := range []struct {
		name string
		put  func(*diary.Diary)
		left string
	}{
		{"minutes at the piano", func(d *diary.Diary) {
			d.AddPiano(diary.Piano{When: at, Player: "Ada", Passage: passage, Minutes: 8})
		}, "Left to do: a round with the ornaments."},
		{"plain notes", func(d *diary.Diary) {
			d.Add(diary.Round{When: at, Player: "Ada", Passage: passage, Beats: 60, Goal: 72, Seconds: 50, Wanted: 20, Hit: 20, Plain: true, Clean: true, Certain: true})
		}, "Left to do: a round with the ornaments."},
		{"ornaments, clean", func(d *diary.Diary) {
			d.Add(diary.Round{When: at, Player: "Ada", Passage: passage, Beats: 60, Goal: 72, Seconds: 50, Wanted: 20, Hit: 20, Clean: true, Certain: true})
		}, "Left to do: nothing that tapping can hear; now at the piano."},
		{"clean at the piano", func(d *diary.Diary) {
			d.Add(diary.Round{When: at, Player: "Ada", Passage: passage, Kind: "piano", Beats: 60, Goal: 72, Seconds: 50, Wanted: 20, Hit: 20, Clean: true, Certain: true})
		}, "Left to do: nothing that could be heard at the piano."},
	} {
		d := &diary.Diary{}
		tt.put(d)
		l := lesson.Read(lesson.Report(d, "Ada", task), nil)
		assert.Equal(t, tt.left, l.Left, tt.name)
	}
}

// What was clean at the instrument stands before what was tapped: of the latest
// day that has one.
func TestThePianoComesFirst(t *testing.T) {
	day := func(date string, cold, reached, played float64) packet.Day {
		return packet.Day{Date: date, Tapped: 5, Rounds: 3, Clean: 1, ColdTempo: cold, Reached: reached, Played: played}
	}
	r := packet.Report{Goal: 80, Days: []packet.Day{day("2026-11-24", 50, 60, 52), day("2026-11-25", 60, 70, 56), day("2026-11-26", 60, 76, 0)}}
	for goal, begins := range map[float64]string{
		80: "Clean at the piano at 56 of 80 beats per minute. First round of the day, cold: 50, 60, 60; goal 80",
		0:  "Clean at the piano at 56 beats per minute. First round of the day, cold: 50, 60, 60 beats",
	} {
		r.Goal = goal
		l := lesson.Read(r, nil)
		assert.True(t, strings.HasPrefix(l.Cold, begins), l.Cold)
		assert.Contains(t, l.Days[0], "clean at the piano at 52, clean at 60")
	}
}
