package diary_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/diary"
	"agremens/game/round"
	"agremens/realize/tap"
)

// started is a round on a day whose one ornament started so far off its beat.
func started(day int, ms float64) diary.Round {
	r := aRound(day, 600, "A")
	r.Starts, r.Unaided = []float64{ms}, true
	return r
}

// The last 24 rounds of a kind are compared, the earlier dozen with the later:
// what lies further back says little of now.
func TestWhichRoundsAreCompared(t *testing.T) {
	var d diary.Diary
	d.Add(started(1, 900)) // a long time ago
	d.Add(started(10, 72)) // the first that counts
	for i := range 11 {
		d.Add(started(11+i, 60))
	}
	for i := range 12 {
		d.Add(started(30+i, -20)) // early is as far off as late
	}
	p := d.Progress("A", "")
	for name, k := range map[string]diary.Kept{"cold": p.Cold, "unaided": p.Unaided} {
		assert.Equal(t, 25, k.Rounds, name)
		assert.InDelta(t, 61, k.Starts.Before, 1e-9, name)
		assert.InDelta(t, 20, k.Starts.After, 1e-9, name)
		assert.Equal(t, tap.Better, k.Starts.Verdict, name)
	}
}

// Of an odd number the later part has one round more.
func TestHalvesOfAnOddNumber(t *testing.T) {
	var d diary.Diary
	for i, ms := range []float64{60, 60, 60, 60, 20, 20, 20, 20, 20} {
		d.Add(started(i, ms))
	}
	k := d.Progress("A", "").Unaided
	assert.Equal(t, 60.0, k.Starts.Before)
	assert.Equal(t, 20.0, k.Starts.After)
}

// Tempo is a share of the goal, so that another goal is no other tempo; clean
// rounds are counted among all, with one of each added (package tap says why).
func TestTempoAndCleanRoundsAreCompared(t *testing.T) {
	var d diary.Diary
	for i := range 8 {
		r := started(i, 30)
		r.Beats, r.Goal = 40, 80
		if i >= 4 {
			r.Beats, r.Goal = 60, 60
		}
		r.Clean = i == 0 || i >= 5
		d.Add(r)
	}
	r := started(99, 30)
	r.Goal = 0 // an opened passage without a goal has no share
	r.Beats = 999
	k := d.Progress("A", "").Unaided
	assert.Equal(t, 0.5, k.Tempo.Before)
	assert.Equal(t, 1.0, k.Tempo.After)
	assert.Equal(t, tap.Better, k.Tempo.Verdict)
	assert.InDelta(t, 2.0/6, k.Clean.Before, 1e-9)
	assert.InDelta(t, 4.0/6, k.Clean.After, 1e-9)
	d.Add(r)
	assert.Equal(t, 1.0, d.Progress("A", "").Unaided.Tempo.After)
}

// The last eight rounds with ornaments tell which fault is left.
func TestWhichFaultIsLeft(t *testing.T) {
	for _, tt := range []struct {
		name   string
		faults string // one a round, in order; "-" none
		want   string
	}{
		{"the most frequent", "limps drift limps", "limps"},
		{"of two the one met first", "drift limps", "drift"},
		{"none", "- - -", ""},
		{"nine rounds ago is over, eight is not", "drift limps drift - - - - - -", "limps"},
		{"what comes more often later on", "drift limps limps", "limps"},
	} {
		var d diary.Diary
		for i, f := range strings.Fields(tt.faults) {
			r := started(i, 10)
			if f != "-" {
				r.Fault = f
			}
			d.Add(r)
		}
		plain := aRound(99, 0, "A")
		plain.Plain, plain.Fault = true, "unsteady"
		for range 4 {
			d.Add(plain)
		}
		assert.Equal(t, tt.want, d.Progress("A", "").Fault, tt.name+"; plain rounds say nothing of ornaments")
	}
}

// Rounds of plain notes are practice, but no rounds with ornaments: they are
// neither the cold round of a day nor one without help, make no passage known
// and do not count as clean ones.
func TestPlainRoundsAreNoRoundsWithOrnaments(t *testing.T) {
	var d diary.Diary
	for i := range 3 {
		r := aRound(5, 10+i, "A")
		r.Plain, r.Unaided, r.Clean, r.Starts, r.Beats = true, true, true, nil, 200
		d.Add(r)
	}
	p := d.Progress("A", "")
	assert.Equal(t, 3, p.Rounds)
	assert.Equal(t, 1, p.Days)
	assert.Zero(t, p.Cold.Rounds)
	assert.Zero(t, p.Unaided.Rounds)
	assert.Zero(t, p.New.Rounds)
	require.Len(t, p.Last, 1)
	assert.Nil(t, p.Last[0].Cold)
	assert.Nil(t, p.Last[0].Unaided)
	assert.Zero(t, p.Last[0].Clean)
	assert.Zero(t, p.Last[0].Best)

	with := aRound(5, 30, "A")
	with.Unaided, with.Clean = true, true
	d.Add(with)
	p = d.Progress("A", "")
	assert.Equal(t, 1, p.Cold.Rounds)
	assert.Equal(t, 1, p.Unaided.Rounds)
	assert.Equal(t, 1, p.New.Rounds, "met with its ornaments only now")
	assert.Equal(t, 30, p.Last[0].Cold.Minute)
	assert.Equal(t, 30, p.Last[0].Unaided.Minute)
	assert.Equal(t, 1, p.Last[0].Clean)
	assert.Equal(t, 0.75, p.Last[0].Best)
}

// A day's line: its first rounds count, not its best, but for the tempo.
func TestALineOfADay(t *testing.T) {
	var d diary.Diary
	add := func(day, minute, seconds int, beats float64, clean, unaided bool) {
		r := aRound(day, minute, "A")
		r.Seconds, r.Beats, r.Clean, r.Unaided = seconds, beats, clean, unaided
		d.Add(r)
	}
	add(8, 40, 60, 60, true, false)
	add(7, 30, 30, 76, true, true) // the clock went back: order is the clock's
	add(7, 20, 30, 40, false, false)
	add(7, 50, 61, 80, false, true)
	add(7, 60, 0, 72, true, true)
	p := d.Progress("A", "")
	require.Len(t, p.Last, 2)
	day := p.Last[0]
	assert.Equal(t, 7, day.Day)
	assert.Equal(t, 4, day.Rounds)
	assert.Equal(t, 3, day.Minutes, "121 s: a minute begun counts")
	assert.Equal(t, 2, day.Clean)
	assert.Equal(t, 0.95, day.Best, "76 of 80, clean; 80 was not")
	assert.Equal(t, 20, day.Cold.Minute)
	assert.Equal(t, 30, day.Unaided.Minute)
	assert.Equal(t, 1, p.Last[1].Minutes, "a minute is no minute begun more")
	assert.Equal(t, 4, p.Minutes, "181 s")
	assert.Equal(t, []string{"8 Jan", "4", "3", "40", "20 ms", "20 ms", "2", "95 % of the goal"}, day.Cells(nil))
}

// Only the last day practised can be today.
func TestToday(t *testing.T) {
	var d diary.Diary
	assert.Empty(t, d.Progress("A", "").Today(3, nil))
	d.Add(aRound(3, 0, "A"))
	d.Add(aRound(4, 0, "A"))
	p := d.Progress("A", "")
	assert.Equal(t, "1 round, 1 minute of tapping.", p.Today(4, nil))
	assert.Empty(t, p.Today(3, nil))
	assert.Empty(t, p.Today(5, nil))
}

// The teacher's marks: the earlier half against the later, and the latest.
func TestMarksByEar(t *testing.T) {
	var d diary.Diary
	for i, m := range []int{1, 1, 1, 1, 3, 3, 3, 2} {
		d.AddEar(diary.Ear{When: diary.When{Day: i}, Player: "A", Passage: "turn", OnBeat: m, Even: 2})
	}
	d.AddEar(diary.Ear{Player: "B", Passage: "turn", OnBeat: 0})
	d.AddEar(diary.Ear{Player: "A", Passage: "trill", OnBeat: 0})
	h := d.Progress("A", "turn").Ears[0]
	assert.Equal(t, 8, h.N)
	assert.Equal(t, 2, h.Latest)
	assert.Equal(t, 1.0, h.Change.Before)
	assert.Equal(t, 2.75, h.Change.After)
	assert.Equal(t, tap.Better, h.Change.Verdict)
	rows := d.Progress("A", "turn").Rows(nil)
	require.Len(t, rows, 7)
	assert.Equal(t, diary.Row{Name: "By ear: on its beat", Text: "2 of 3; on average 2.8, before that 1.0: better"}, rows[3])
	assert.Equal(t, 9, d.Progress("A", "").Ears[0].N)
	assert.Len(t, (&diary.Diary{}).Progress("A", "").Rows(nil), 3, "no marks, no rows for them")
}

// Time at the piano is what was told, of this player and this passage.
func TestTimeAtThePiano(t *testing.T) {
	var d diary.Diary
	for _, p := range []diary.Piano{
		{Player: "A", Passage: "turn", Minutes: 5}, {Player: "A", Passage: "trill", Minutes: 7}, {Player: "B", Passage: "turn", Minutes: 100},
	} {
		d.AddPiano(p)
	}
	assert.Equal(t, 12, d.Progress("A", "").PianoMinutes)
	assert.Equal(t, 5, d.Progress("A", "turn").PianoMinutes)
	assert.Equal(t, "0 days, 0 rounds, 0 minutes of tapping, 12 minutes at the piano (student's figure).", d.Progress("A", "").Summary(nil))
	assert.Equal(t, "Nothing here yet. A round of tapping writes the first line.", d.Progress("C", "").Summary(nil))
}

// What is said of a change in tempo beside one of starts.
func TestTempoInWords(t *testing.T) {
	for _, tt := range []struct {
		before, after float64
		want          string
	}{
		{40, 60, "; the tempo is faster, 75 % of the goal"},
		{60, 40, "; the tempo is slower, 50 % of the goal"},
		{60, 60, "no clear change yet"},
	} {
		var d diary.Diary
		for i := range 8 {
			r := started(i, 25)
			r.Beats = tt.before
			if i >= 4 {
				r.Beats = tt.after
			}
			d.Add(r)
		}
		text := d.Progress("A", "").Rows(nil)[1].Text
		assert.True(t, strings.HasPrefix(text, "starts 30 ms from the beat, before that 30 ms: no clear change yet"), text)
		assert.True(t, strings.HasSuffix(text, tt.want), text)
	}
}

func TestTheFaultLeftInWords(t *testing.T) {
	assert.Empty(t, diary.Progress{}.Left(nil))
	assert.Equal(t, "Left to work on: the tempo changes along the way.", diary.Progress{Fault: "drift"}.Left(nil))
}

// Every field is brought within what it can be; what is no number is none.
func TestLimitsOfFields(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		name     string
		in, want diary.Round
	}{
		{"too small", diary.Round{When: diary.When{Day: -1, Minute: -1}, Beats: -1, Goal: -1, Seconds: -1, Wanted: -1, Hit: -1, Missed: -1, Extra: -1, MeanMS: -1e6, SpreadMS: -1},
			diary.Round{MeanMS: -100000}},
		{"too large", diary.Round{When: diary.When{Day: 1e6, Minute: 1440}, Beats: 1001, Goal: 1001, Seconds: 86401, Wanted: 1e6, Hit: 1e6, Missed: 1e6, Extra: 1e6, MeanMS: 1e6, SpreadMS: 1e6},
			diary.Round{When: diary.When{Day: 200000, Minute: 1439}, Beats: 1000, Goal: 1000, Seconds: 86400, Wanted: 100000, Hit: 100000, Missed: 100000, Extra: 100000, MeanMS: 100000, SpreadMS: 100000}},
		{"no numbers", diary.Round{Beats: nan, Goal: nan, MeanMS: nan, SpreadMS: nan, Starts: []float64{nan, 5}}, diary.Round{Starts: []float64{0, 5}}},
	} {
		var d diary.Diary
		d.Add(tt.in)
		assert.Equal(t, tt.want, d.Rounds[0], tt.name)
	}
	var d diary.Diary
	d.AddPiano(diary.Piano{Minutes: 601})
	d.AddPiano(diary.Piano{Minutes: -1})
	assert.Equal(t, 600, d.Pianos[0].Minutes, "ten hours")
	assert.Zero(t, d.Pianos[1].Minutes)
	d.AddEar(diary.Ear{OnBeat: 4, Even: -1, Lands: 3})
	assert.Equal(t, diary.Ear{OnBeat: 3, Lands: 3}, d.Ears[0])
	d.SetPlayer(diary.Player{Name: "A", Rate: 31})
	assert.Equal(t, 30.0, d.Players[0].Rate, "more notes a second than anybody plays")
	long := diary.Round{Player: strings.Repeat("n", 30), Title: strings.Repeat("t", 90), Starts: make([]float64, 50)}
	d.Add(long)
	assert.Len(t, d.Rounds[0].Player, diary.MaxName)
	assert.Len(t, d.Rounds[0].Title, 80)
	assert.Len(t, d.Rounds[0].Starts, 40)
}

// Encoding keeps a tenth of a millisecond and a thousandth of a share.
func TestHowExactlyFiguresAreKept(t *testing.T) {
	var d diary.Diary
	r := aRound(1, 2, "A")
	r.Beats, r.MeanMS, r.Starts, r.Uneven = 72.126, -12.34, []float64{0}, []float64{0.12345}
	d.Add(r)
	back, _, err := diary.Decode(d.Encode())
	require.NoError(t, err)
	got := back.Rounds[0]
	assert.Equal(t, 72.13, got.Beats)
	assert.Equal(t, -12.3, got.MeanMS)
	assert.Equal(t, []float64{0}, got.Starts, "one that started on its beat is not none")
	assert.Equal(t, []float64{0.123}, got.Uneven)
}

// A damaged line of each kind is counted and left out.
func TestDamagedLines(t *testing.T) {
	for _, line := range []string{
		"round\t1", "ear\t1\t2\tA\tp\tt\t1\t1\t1\tx", "piano\t1\t2\tA\tp\tt", "player\tA\tx\t\t",
		"ear\tx\t2\tA\tp\tt\t1\t1\t1\t1", "round\t1\t2\tA\tp\tt\tb\tk\tw\th\t\t\t0\t0\t0\t0\t0\t\t\t1,x\t\tct\t",
	} {
		d, damaged, err := diary.Decode("agremens-diary 1\n" + line + "\n\n")
		require.NoError(t, err)
		assert.Equal(t, 1, damaged, line)
		assert.True(t, d.Empty(), line)
	}
}

// Lines of a later version are kept, a thousand at most.
func TestHowManyLaterLinesAreKept(t *testing.T) {
	d, _, err := diary.Decode("agremens-diary 9\n" + strings.Repeat("new\tline\n", 1001))
	require.NoError(t, err)
	assert.Equal(t, 1000, strings.Count(d.Encode(), "new\tline\n"))
}

// A log of exactly 4 MB is read.
func TestHowLongALogMayBe(t *testing.T) {
	const head = "agremens-diary 1\n"
	for size, want := range map[int]error{4 << 20: nil, 4<<20 + 1: diary.ErrTooLong} {
		_, _, err := diary.Decode(head + strings.Repeat("\n", size-len(head)))
		assert.ErrorIs(t, err, want)
	}
}

// A read log keeps the latest, as one that was written to does.
func TestAReadLogIsBounded(t *testing.T) {
	var text strings.Builder
	text.WriteString("agremens-diary 1\n")
	for i := range diary.MaxPianos + 1 {
		fmt.Fprintf(&text, "piano\t%d\t0\tA\tp\tt\t1\n", i)
	}
	for i := range diary.MaxEars + 1 {
		fmt.Fprintf(&text, "ear\t%d\t0\tA\tp\tt\t1\t1\t1\t1\n", i)
	}
	d, damaged, err := diary.Decode(text.String())
	require.NoError(t, err)
	assert.Zero(t, damaged)
	assert.Len(t, d.Pianos, diary.MaxPianos)
	assert.Equal(t, 1, d.Pianos[0].Day)
	assert.Len(t, d.Ears, diary.MaxEars)
	assert.Equal(t, 1, d.Ears[0].Day)
	d.AddPiano(diary.Piano{When: diary.When{Day: 5000}})
	d.AddEar(diary.Ear{When: diary.When{Day: 5000}})
	assert.Equal(t, 2, d.Pianos[0].Day)
	assert.Equal(t, 2, d.Ears[0].Day)
}

// What a player has is hers alone.
func TestOfOnePlayer(t *testing.T) {
	var d diary.Diary
	for _, name := range []string{"A", "B"} {
		d.SetPlayer(diary.Player{Name: name})
		d.Add(aRound(1, 0, name))
		d.AddEar(diary.Ear{Player: name})
		d.AddPiano(diary.Piano{Player: name})
	}
	of := d.Of("B")
	assert.Len(t, of.Rounds, 1)
	assert.Len(t, of.Ears, 1)
	assert.Len(t, of.Pianos, 1)
	assert.Equal(t, []diary.Player{{Name: "B"}}, of.Players)
	assert.True(t, d.Of("C").Empty())
	d.Erase("B")
	assert.Equal(t, d.Of("A").Encode(), d.Encode(), "nothing of hers is left")
	assert.False(t, d.Empty())
}

// Names are in order whatever their capitals, and the latest passage first.
func TestOrders(t *testing.T) {
	var d diary.Diary
	for _, n := range []string{"ben", "Ada", "Cleo"} {
		d.SetPlayer(diary.Player{Name: n})
	}
	assert.Equal(t, []diary.Player{{Name: "Ada"}, {Name: "ben"}, {Name: "Cleo"}}, d.Players)
	for i, p := range []string{"a", "b", "a", "c"} {
		d.Add(diary.Round{When: diary.When{Day: i}, Passage: p, Title: strings.Repeat(strings.ToUpper(p), i%2)})
	}
	assert.Equal(t, []diary.Known{{Key: "c", Title: "C"}, {Key: "a", Title: "a"}, {Key: "b", Title: "B"}}, d.Passages())
	assert.Len(t, d.Latest(2), 2)
	assert.Equal(t, "c", d.Latest(2)[1].Passage)
	assert.Len(t, d.Latest(9), 4)
	assert.False(t, d.Drop(0, true))
	assert.True(t, d.Drop(4, true))
	assert.False(t, d.Drop(5, true))
}

// A record's seconds go to the nearest, and only codes of faults are faults.
func TestSecondsOfARecord(t *testing.T) {
	for s, want := range map[float64]int{12.4: 12, 12.5: 13} {
		r := diary.From(round.Record{Seconds: s, Hands: round.LeftHand, Findings: []string{tap.CodeLead}}, diary.When{}, "keys", true)
		assert.Equal(t, want, r.Seconds)
		assert.Equal(t, "left", r.Hand)
		assert.Empty(t, r.Fault)
		assert.True(t, r.Plain)
	}
}

// A log is empty where none of its four lists holds anything.
func TestEmptyLogs(t *testing.T) {
	fill := []func(*diary.Diary){
		func(d *diary.Diary) { d.SetPlayer(diary.Player{Name: "A"}) },
		func(d *diary.Diary) { d.Add(aRound(1, 600, "A")) },
		func(d *diary.Diary) { d.AddEar(diary.Ear{When: diary.When{Day: 1}, Player: "A"}) },
		func(d *diary.Diary) { d.AddPiano(diary.Piano{When: diary.When{Day: 1}, Player: "A", Minutes: 1}) },
	}
	for set := range 1 << len(fill) {
		var d diary.Diary
		for i, put := range fill {
			if set&(1<<i) != 0 {
				put(&d)
			}
		}
		assert.Equal(t, set == 0, d.Empty(), "%04b", set)
	}
}

// A table has quotes only where a cell needs them: people read it as text too.
func TestNoQuotesWithoutNeed(t *testing.T) {
	var d diary.Diary
	d.Add(aRound(1, 600, "A"))
	assert.NotContains(t, string(d.CSV()), `"`)
}

// The picture shows the last twenty days practised: more are too narrow to
// tell apart on a phone.
func TestHowManyDaysThePictureShows(t *testing.T) {
	for days, discs := range map[int]int{19: 19, 20: 20, 21: 20, 45: 20} {
		var d diary.Diary
		for i := range days {
			d.Add(started(i, 40))
		}
		svg := d.Progress("A", "").Picture(nil)
		assert.Equal(t, discs, strings.Count(svg, "<circle"), "%d days", days)
		first := diary.When{Day: days - discs}
		assert.Contains(t, svg, ">"+first.Short(nil)+"<", "the latest ones")
	}
}
