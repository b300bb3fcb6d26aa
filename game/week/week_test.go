package week_test

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/cmd/agremens/po"
	"agremens/game/diary"
	"agremens/game/practice"
	"agremens/game/week"
	"agremens/realize/codec/packet"
)

// sunday is 29 November 2026, by the calendar.
const sunday = 20786

func at(day int) diary.When { return diary.When{Day: day, Minute: 960} }

// practised is a week from Monday on: clean rounds on Thursday, Friday and
// Sunday, hollow ones on Monday and Tuesday, a rest on Wednesday and Saturday.
func practised() *diary.Diary {
	d := &diary.Diary{}
	for _, r := range []struct {
		day   int
		beats float64
		clean bool
	}{{-6, 60, false}, {-5, 66, false}, {-3, 66, false}, {-3, 63, true}, {-2, 72, true}, {-2, 80, false}, {0, 84, true}, {0, 80, true}} {
		d.Add(diary.Round{When: at(sunday + r.day), Player: "Ada", Passage: "task-1", Beats: r.beats, Goal: 104, Seconds: 45, Clean: r.clean})
	}
	return d
}

func TestAWeekOfTheDiary(t *testing.T) {
	w := week.Of(practised(), "Ada", "task-1", sunday, 0)
	assert.Equal(t, 104.0, w.Goal)
	assert.Equal(t, [week.Length]week.Day{
		{Tried: 60, Minutes: 1}, {Tried: 66, Minutes: 1}, {},
		{Clean: 63, Tried: 66, Minutes: 2}, {Clean: 72, Tried: 80, Minutes: 2}, {}, {Clean: 84, Tried: 84, Minutes: 2},
	}, w.Days)
	tapped, piano := w.Minutes()
	assert.Equal(t, 8, tapped)
	assert.Zero(t, piano)
	assert.Equal(t, 5, w.Practised())
	assert.Equal(t, "Monday: tried at 60, not clean yet; Tuesday: tried at 66, not clean yet; Wednesday: a rest; "+
		"Thursday: clean at 63; Friday: clean at 72; Saturday: a rest; Sunday: clean at 84. The goal is 104 beats per minute.", w.Text(nil))
	assert.Equal(t, "Clean at 84 today; on Thursday it was 63.", w.Compare(nil))
}

// What was clean at the instrument itself is said before what was tapped.
func TestPlayedComesFirst(t *testing.T) {
	d := practised()
	d.Add(diary.Round{When: at(sunday), Player: "Ada", Passage: "task-1", Kind: practice.Piano, Beats: 76, Goal: 104, Seconds: 45, Clean: true})
	d.Add(diary.Round{When: at(sunday - 1), Player: "Ada", Passage: "task-1", Kind: practice.Piano, Beats: 90, Goal: 104, Seconds: 45})
	w := week.Of(d, "Ada", "task-1", sunday, 0)
	assert.Equal(t, 76.0, w.Days[6].Played)
	assert.Zero(t, w.Days[5].Played, "not clean")
	assert.Contains(t, w.Text(nil), "Sunday: clean at the piano at 76.")
}

// What counts: rounds of this player and passage, within the week, not
// disowned; plain notes are minutes alone.
func TestWhatBelongsToAWeek(t *testing.T) {
	d := practised()
	for _, r := range []diary.Round{
		{When: at(sunday + 1), Player: "Ada", Passage: "task-1", Beats: 200, Clean: true},
		{When: at(sunday - 7), Player: "Ada", Passage: "task-1", Beats: 30, Clean: true},
		{When: at(sunday), Player: "Ben", Passage: "task-1", Beats: 200, Clean: true},
		{When: at(sunday), Player: "Ada", Passage: "task-2", Beats: 201, Clean: true},
		{When: at(sunday), Player: "Ada", Passage: "task-1", Beats: 202, Clean: true, Void: true},
		{When: at(sunday - 4), Player: "Ada", Passage: "task-1", Beats: 203, Seconds: 61, Clean: true, Plain: true},
	} {
		d.Add(r)
	}
	d.AddPiano(diary.Piano{When: at(sunday - 1), Player: "Ada", Passage: "task-1", Minutes: 5})
	d.AddPiano(diary.Piano{When: at(sunday - 1), Player: "Ada", Passage: "task-1", Minutes: 5})
	w := week.Of(d, "Ada", "task-1", sunday, 100)
	assert.Equal(t, 100.0, w.Goal)
	assert.Equal(t, week.Day{Clean: 84, Tried: 84, Minutes: 2}, w.Days[6])
	assert.Equal(t, week.Day{Piano: 10}, w.Days[5])
	assert.Equal(t, week.Day{Minutes: 2}, w.Days[2])
	assert.Contains(t, w.Text(nil), "Wednesday: the plain notes;")
	assert.Contains(t, w.Text(nil), "Saturday: at the piano;")
	assert.Equal(t, 201.0, week.Of(d, "Ada", "", sunday, 0).Days[6].Clean, "all passages")
}

// Days before the first one are no rests, nor is a day that is not over.
func TestRests(t *testing.T) {
	d := &diary.Diary{}
	d.Add(diary.Round{When: at(sunday - 2), Player: "Ada", Beats: 60, Goal: 104, Clean: true})
	w := week.Of(d, "Ada", "", sunday, 0)
	assert.Equal(t, "Friday: clean at 60; Saturday: a rest; Sunday: a rest. The goal is 104 beats per minute.", w.Text(nil))
	assert.Equal(t, 2, strings.Count(rests(w), "M"))
	w.Open = true
	assert.Equal(t, "Friday: clean at 60; Saturday: a rest. The goal is 104 beats per minute.", w.Text(nil))
	assert.Equal(t, 1, strings.Count(rests(w), "M"))
	d.Add(diary.Round{When: at(sunday - 30), Player: "Ada", Beats: 60})
	assert.True(t, strings.HasPrefix(week.Of(d, "Ada", "", sunday, 0).Text(nil), "Monday: a rest; Tuesday: a rest"), "practised before that week")
}

// rests is the path of a picture's rests.
func rests(w week.Week) string {
	_, path, _ := strings.Cut(w.SVG(nil, week.Small), `class="week-rest" d="`)
	path, _, _ = strings.Cut(path, `"`)
	return path
}

func TestCompare(t *testing.T) {
	for name, tt := range map[string]struct {
		days [week.Length]week.Day
		goal float64
		want string
	}{
		"nothing":           {want: ""},
		"plain notes":       {days: [week.Length]week.Day{6: {Minutes: 3}}, want: ""},
		"not clean":         {days: [week.Length]week.Day{6: {Tried: 50}}, want: "No clean round this week yet: slower is allowed."},
		"one day, today":    {days: [week.Length]week.Day{6: {Clean: 50, Tried: 60}}, want: "Clean at 50 today."},
		"one day":           {days: [week.Length]week.Day{0: {Tried: 50}, 1: {Clean: 50}}, want: "Clean at 50 on Tuesday."},
		"not clean since":   {days: [week.Length]week.Day{1: {Clean: 50}, 6: {Tried: 70}}, want: "Clean at 50 on Tuesday."},
		"faster":            {days: [week.Length]week.Day{0: {Clean: 60}, 3: {Clean: 90}, 6: {Clean: 88}}, goal: 104, want: "Clean at 88 today; on Monday it was 60."},
		"slower":            {days: [week.Length]week.Day{0: {Clean: 60}, 6: {Clean: 50}}, want: "Clean at 50 today; on Monday it was 60."},
		"the same, rounded": {days: [week.Length]week.Day{0: {Clean: 60.4}, 6: {Clean: 59.6}}, want: "Clean at 60 today, as on Monday."},
		"the goal":          {days: [week.Length]week.Day{0: {Clean: 60}, 5: {Clean: 103.6}}, goal: 104, want: "Clean at 104 on Saturday; on Monday it was 60. That is the goal."},
	} {
		t.Run(name, func(t *testing.T) {
			assert.Equal(t, tt.want, week.Week{Days: tt.days, Last: sunday, Goal: tt.goal}.Compare(nil))
		})
	}
}

func TestInGerman(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	w := week.Of(practised(), "Ada", "", sunday, 0)
	assert.Equal(t, "Heute sauber bei 84; am Donnerstag war es 63.", w.Compare(german))
	for _, text := range []string{w.Text(german), w.Compare(german)} {
		assert.Empty(t, po.English(text), text)
	}
	assert.Contains(t, w.SVG(german, week.Large), ">Mi<")
}

// A report carries the same week as the diary it was made of, but that it
// tells the first tempo of a day without a clean round, not the fastest.
func TestAReportGivesTheSameWeek(t *testing.T) {
	r := packet.Report{Goal: 104, Days: []packet.Day{
		{Date: "2026-11-23", Tapped: 1, Rounds: 1, ColdTempo: 60}, {Date: "2026-11-24", Tapped: 1, Rounds: 1, ColdTempo: 66},
		{Date: "2026-11-26", Tapped: 2, Rounds: 2, ColdTempo: 66, Reached: 63}, {Date: "2026-11-27", Tapped: 2, Rounds: 2, ColdTempo: 72, Reached: 72},
		{Date: "2026-11-29", Tapped: 2, Rounds: 2, ColdTempo: 84, Reached: 84}, {Date: "nonsense!!"},
	}}
	got, want := week.FromReport(r, 0), week.Of(practised(), "Ada", "", sunday, 0)
	want.Days[4].Tried = 72
	assert.Equal(t, want, week.FromReport(packet.Report{Goal: 104, Days: r.Days[:5]}, 0))
	assert.NotEqual(t, want, got, "the last line is no date")
	assert.Equal(t, want, week.FromReport(r, sunday))
	assert.True(t, week.FromReport(packet.Report{}, 0).Empty())
	assert.Empty(t, week.FromReport(packet.Report{}, 0).SVG(nil, week.Large))
}

// Every picture is well formed, stays within its frame, and places a faster
// day no lower than a slower one.
func TestPictures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := week.Week{Last: rapid.IntRange(0, 200000).Draw(t, "last"), Goal: rapid.SampledFrom([]float64{0, 40, 72, 104, 300}).Draw(t, "goal"), Open: rapid.Bool().Draw(t, "open")}
		for i := range w.Days {
			w.Days[i] = week.Day{
				Clean: rapid.SampledFrom([]float64{0, 0, 10, 60, 61, 104, 400}).Draw(t, "clean"), Tried: rapid.SampledFrom([]float64{0, 20, 500}).Draw(t, "tried"),
				Piano: rapid.IntRange(0, 2).Draw(t, "piano"), Before: rapid.Bool().Draw(t, "before"),
			}
		}
		for _, size := range []week.Size{week.Large, week.Small} {
			svg := w.SVG(nil, size)
			if w.Empty() {
				require.Empty(t, svg)
				continue
			}
			for d := xml.NewDecoder(strings.NewReader(svg)); ; {
				if _, err := d.Token(); err == io.EOF {
					break
				} else {
					require.NoError(t, err)
				}
			}
			require.NotContains(t, svg, "NaN")
			require.NotContains(t, svg, "Inf")
		}
	})
}

// On paper the week is empty, begins on Monday, and has the goal's line.
func TestAWeekToFillIn(t *testing.T) {
	svg := week.ToFill(60, 104).SVG(nil, week.Large)
	assert.Contains(t, svg, ">104<")
	assert.Contains(t, svg, ">60<")
	assert.Less(t, strings.Index(svg, ">Mo<"), strings.Index(svg, ">Su<"))
	assert.NotContains(t, svg, "week-note")
	assert.NotContains(t, svg, "week-rest")
	assert.NotContains(t, svg, "NaN")
	assert.NotContains(t, week.ToFill(104, 104).SVG(nil, week.Large), "NaN")
	assert.Empty(t, week.Week{Goal: 104}.SVG(nil, week.Large), "without practice there is no picture")
}
