package packet_test

import (
	"encoding/base64"
	"errors"
	"fmt"
	"math/rand"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/assets"
	"agremens/realize/codec/packet"
)

func anyTask(t *rapid.T) packet.Task {
	line := rapid.StringOfN(rapid.RuneFrom([]rune("abc ÄÖ'’#.-\\n\n")), 0, 40, -1)
	word := rapid.StringMatching(`[a-z][a-z.-]{0,12}`)
	all := assets.Passages()
	task := packet.Task{
		Score: all[rapid.IntRange(0, len(all)-1).Draw(t, "passage")].ABC,
		Title: line.Draw(t, "title"), Bars: rapid.SampledFrom([]string{"", "3-6", "0-4"}).Draw(t, "bars"),
		Goal: float64(rapid.IntRange(1, 300).Draw(t, "goal")), Percent: float64(rapid.IntRange(20, 200).Draw(t, "percent")),
		Tradition: word.Draw(t, "tradition"), Rate: float64(rapid.IntRange(2, 16).Draw(t, "rate")),
		Hand: "right", Hear: "left", Follow: rapid.SampledFrom([]string{"", "repeats"}).Draw(t, "follow"), Instrument: word.Draw(t, "instrument"), Tuning: word.Draw(t, "tuning"), Pitch: 415,
		Kinds: rapid.SliceOfN(word, 1, 5).Draw(t, "kinds"), Words: line.Draw(t, "words"),
		Free: rapid.SliceOfNDistinct(rapid.IntRange(0, 5), 1, 1, rapid.ID[int]).Draw(t, "free"),
	}
	for range rapid.IntRange(1, 6).Draw(t, "decisions") {
		task.Decisions = append(task.Decisions, packet.Decision{
			Ornament: rapid.IntRange(0, 30).Draw(t, "ornament"), Pass: rapid.IntRange(0, 2).Draw(t, "pass"),
			Choice: word.Draw(t, "choice"), Own: rapid.SampledFrom([]string{"", "D5 0 1/4\nC5 1/4 1/4"}).Draw(t, "own")})
	}
	task.Fingers = []packet.Fingers{{Ornament: 2, Choice: "trill.upper", Fingers: "3 2 3 2"}}
	for range rapid.IntRange(0, 3).Draw(t, "tapped") {
		task.Taps = append(task.Taps, packet.Taps{Ornament: rapid.IntRange(0, 30).Draw(t, "of"), Tempo: rapid.SampledFrom([]int{1, 60, 2000}).Draw(t, "at"), Late: "0 -12 - 33"})
	}
	return task
}

func TestTaskComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		task := anyTask(t)
		letters := packet.EncodeTask(task)
		assert.Regexp(t, `^[A-Za-z0-9_-]+$`, letters)
		got, err := packet.DecodeTask(letters)
		require.NoError(t, err)
		assert.Equal(t, task, got)
		assert.Equal(t, task.ID(), got.ID())
		kind, err := packet.KindOf(letters)
		require.NoError(t, err)
		assert.Equal(t, packet.TaskKind, kind)
	})
}

// What cannot be a teacher's taps is passed over, and taps have no part in what
// a task is called: an older program, which passes them over too, calls it the
// same.
func TestTaps(t *testing.T) {
	const score = "score X:1\\nK:C\\nc|\n"
	without, err := packet.DecodeTask(packet.Pack(packet.TaskKind, score))
	require.NoError(t, err)
	for _, tc := range []struct {
		line string
		want []packet.Taps
	}{
		{"taps 0 60 3 - -7", []packet.Taps{{Tempo: 60, Late: "3 - -7"}}},
		{"taps 4 1 0\ntaps 5 2000 0", []packet.Taps{{Ornament: 4, Tempo: 1, Late: "0"}, {Ornament: 5, Tempo: 2000, Late: "0"}}},
		{"taps 0 0 3", nil},
		{"taps 0 2001 3", nil},
		{"taps -1 60 3", nil},
		{"taps 0 60", nil},
		{"taps x 60 3", nil},
		{"taps 0 NaN 3", nil},
	} {
		got, err := packet.DecodeTask(packet.Pack(packet.TaskKind, tc.line+"\n"+score))
		require.NoError(t, err, tc.line)
		assert.Equal(t, tc.want, got.Taps, tc.line)
		assert.Equal(t, without.ID(), got.ID(), tc.line)
	}
}

// A teacher's taps at eight ornaments of seven notes make a link no more than
// 300 letters longer.
func TestTapsAreSmall(t *testing.T) {
	task := packet.Task{Score: assets.Passages()[0].ABC, Title: "x"}
	bare := len(packet.EncodeTask(task))
	source := rand.New(rand.NewSource(1))
	for i := range 8 {
		var late []string
		for range 7 {
			late = append(late, fmt.Sprint(source.Intn(80)-40))
		}
		task.Taps = append(task.Taps, packet.Taps{Ornament: i, Tempo: 60, Late: strings.Join(late, " ")})
	}
	more := len(packet.EncodeTask(task)) - bare
	t.Logf("%d letters more", more)
	assert.Less(t, more, 300)
}

func anyReport(t *rapid.T, days int) packet.Report {
	r := packet.Report{Name: rapid.StringMatching(`[A-Z][a-z]{0,8}`).Draw(t, "name"), Task: "0a1b2c3d",
		Title: "An Air for Trills", Bars: "1-4", Goal: 72, Fault: "limping", Where: "3 trill", Unaided: 9, CleanUnaided: 4}
	for i := range days {
		r.Days = append(r.Days, packet.Day{
			Date:   "2026-11-" + string(rune('0'+(i+1)/10)) + string(rune('0'+(i+1)%10)),
			Tapped: rapid.IntRange(0, 40).Draw(t, "tapped"), Piano: rapid.IntRange(0, 40).Draw(t, "piano"),
			Rounds: rapid.IntRange(60, 99).Draw(t, "rounds"), Clean: rapid.IntRange(0, 60).Draw(t, "clean"),
			ColdTempo: float64(rapid.IntRange(20, 200).Draw(t, "tempo")), ColdLate: float64(rapid.IntRange(-200, 200).Draw(t, "late")),
			ColdClean: rapid.Bool().Draw(t, "cold"), Reached: float64(rapid.IntRange(0, 200).Draw(t, "reached"))})
	}
	return r
}

func TestReportComesBackWithinItsLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyReport(t, rapid.IntRange(0, 21).Draw(t, "days"))
		letters := packet.EncodeReport(r)
		assert.LessOrEqual(t, len(letters), packet.MaxReport)
		got, err := packet.DecodeReport(letters)
		require.NoError(t, err)
		assert.Equal(t, r, got, "three weeks fit without loss")

		r.Packed = packet.EncodeTask(anyTask(t))
		r.Title = strings.Repeat("A very long title indeed. ", rapid.IntRange(0, 40).Draw(t, "long"))
		letters = packet.EncodeReport(r)
		assert.LessOrEqual(t, len(letters), packet.MaxReport)
		got, err = packet.DecodeReport(letters)
		require.NoError(t, err)
		assert.Equal(t, r.Name, got.Name)
		assert.True(t, got.Packed == "" || got.Packed == r.Packed)
	})
}

// The task goes along as long as a week of days fits beside it; one that is too
// long makes room for all days.
func TestTaskGoesAlongBeforeOldDays(t *testing.T) {
	for _, tc := range []struct {
		name  string
		words int // of the teacher's, letters that do not pack
		days  int // that are told
		task  bool
	}{
		{"a short task", 0, 21, true},
		{"a task of middle length", 420, 16, true},
		{"a long task", 600, 21, false},
	} {
		t.Run(tc.name, func(t *testing.T) {
			source := rand.New(rand.NewSource(1))
			words := make([]byte, tc.words)
			for i := range words {
				words[i] = byte('!' + source.Intn(90))
			}
			r := packet.Report{Name: "Ada", Title: "x", Packed: packet.EncodeTask(packet.Task{Score: "X:1\nK:C\nc4|]\n", Words: string(words)})}
			for i := range 21 {
				r.Days = append(r.Days, packet.Day{Date: fmt.Sprintf("2026-11-%02d", i+1), Tapped: source.Intn(40), Piano: source.Intn(40),
					Rounds: 60 + source.Intn(60), Clean: source.Intn(60), ColdTempo: float64(source.Intn(200)), ColdLate: float64(source.Intn(200)), Reached: float64(source.Intn(200))})
			}
			letters := packet.EncodeReport(r)
			assert.LessOrEqual(t, len(letters), packet.MaxReport)
			got, err := packet.DecodeReport(letters)
			require.NoError(t, err)
			t.Logf("%d letters, task of %d, %d days", len(letters), len(r.Packed), len(got.Days))
			assert.Equal(t, tc.task, got.Packed == r.Packed)
			assert.Equal(t, "2026-11-21", got.Days[len(got.Days)-1].Date, "the latest day is told")
			assert.Len(t, got.Days, tc.days)
		})
	}
}

// A link that lost its end, or was changed on its way, is never read as
// something else.
func TestCutAndChanged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		letters := packet.EncodeTask(anyTask(t))
		cut := letters[:rapid.IntRange(0, len(letters)-1).Draw(t, "cut")]
		_, err := packet.DecodeTask(cut)
		assert.Error(t, err)
		if len(cut) > 8 {
			assert.ErrorIs(t, err, packet.ErrCut)
		}
		at := rapid.IntRange(9, len(letters)-2).Draw(t, "at")
		changed := letters[:at] + string(rune('A'+(letters[at]-'A'+7)%26)) + letters[at+1:]
		if _, err := packet.DecodeTask(changed); changed != letters {
			assert.ErrorIs(t, err, packet.ErrCut)
		}
	})
}

func TestRefusals(t *testing.T) {
	good := packet.EncodeTask(packet.Task{Score: assets.Passages()[0].ABC, Title: "x"})
	report := packet.EncodeReport(packet.Report{Name: "A"})
	raw, err := base64.RawURLEncoding.DecodeString(good)
	require.NoError(t, err)
	newer := append([]byte(nil), raw...)
	newer[1] = 200
	none := append([]byte(nil), raw...)
	none[1] = 0
	for _, tc := range []struct {
		name, letters string
		want          error
	}{
		{"empty", "", packet.ErrForeign},
		{"a word", "hello", packet.ErrForeign},
		{"markup", "<script>alert(1)</script>", packet.ErrForeign},
		{"another letter set", "té+/==", packet.ErrForeign},
		{"a report", report, packet.ErrForeign},
		{"kind only", "dA", packet.ErrCut},
		{"of the future", base64.RawURLEncoding.EncodeToString(newer), packet.ErrNewer},
		{"version 0", base64.RawURLEncoding.EncodeToString(none), packet.ErrForeign},
		{"too long", strings.Repeat("dAEA", packet.MaxLetters), packet.ErrLarge},
		{"a bomb", bomb(t), packet.ErrLarge},
		{"not compressed", plain(t), packet.ErrBroken},
		{"no score", packet.EncodeTask(packet.Task{Title: "only a title"}), packet.ErrBroken},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := packet.DecodeTask(tc.letters)
			require.Error(t, err)
			assert.True(t, errors.Is(err, tc.want), "%v", err)
			assert.NotContains(t, packet.Words(err, nil), "packet:")
		})
	}
	spaced := good[:20] + "\n  " + good[20:40] + "\r\n" + good[40:]
	_, err = packet.DecodeTask(spaced)
	assert.NoError(t, err, "mail breaks lines")
}

// Links written by the first version must open for ever.
func TestFirstVersionOpens(t *testing.T) {
	letters, err := os.ReadFile("testdata/task1.txt")
	require.NoError(t, err)
	task, err := packet.DecodeTask(string(letters))
	require.NoError(t, err)
	assert.Equal(t, firstTask(), task)
	letters, err = os.ReadFile("testdata/report1.txt")
	require.NoError(t, err)
	report, err := packet.DecodeReport(string(letters))
	require.NoError(t, err)
	assert.Equal(t, "2026-11-24", report.Days[0].Date)
	assert.Equal(t, 30.0, report.Days[0].ColdLate)
}

func firstTask() packet.Task {
	return packet.Task{
		Score: "X:1\nT:A Scale\nM:2/4\nL:1/8\nK:C\n!trill!c2 de|f4|]\n", Title: "A Scale", Bars: "1-2",
		Goal: 72, Percent: 60, Tradition: "bach", Hand: "right", Instrument: "harpsichord",
		Kinds: []string{"echo", "hands"}, Words: "Slow first.\nThen with the left hand.",
		Decisions: []packet.Decision{{Ornament: 0, Choice: "trill.upper"}}, Free: []int{0},
	}
}

// The built-in passages must fit into one QR code, link and all.
func TestBuiltInTasksFit(t *testing.T) {
	for _, e := range assets.Passages() {
		n := len(packet.EncodeTask(packet.Task{Score: e.ABC, Title: e.Title, Bars: "1-8", Goal: 72,
			Kinds: []string{"echo", "hands", "unaided"}, Words: "Start the trill with the left hand, not after it."}))
		t.Logf("%s: %d letters", e.ID, n)
		assert.LessOrEqual(t, n, packet.MaxSquare-80, e.ID)
	}
}

func TestSquare(t *testing.T) {
	svg, err := packet.Square("https://example.org/#task=" + strings.Repeat("a", 900))
	require.NoError(t, err)
	assert.Contains(t, string(svg), "<svg")
	_, err = packet.Square(strings.Repeat("a", packet.MaxSquare+1))
	assert.ErrorIs(t, err, packet.ErrLarge)
}

func FuzzDecode(f *testing.F) {
	f.Add(packet.EncodeTask(firstTask()))
	f.Add(packet.EncodeReport(packet.Report{Name: "A", Days: []packet.Day{{Date: "2026-11-25", Rounds: 3}}}))
	f.Add("")
	f.Fuzz(func(t *testing.T, letters string) {
		if task, err := packet.DecodeTask(letters); err == nil {
			again, err := packet.DecodeTask(packet.EncodeTask(task))
			require.NoError(t, err)
			assert.Equal(t, task.ID(), again.ID())
		}
		if report, err := packet.DecodeReport(letters); err == nil {
			assert.LessOrEqual(t, len(packet.EncodeReport(report)), packet.MaxReport)
		}
	})
}

// FuzzLines starts behind the checksum, which no fuzzer guesses.
func FuzzLines(f *testing.F) {
	f.Add("title x\nscore X:1\\nK:C\\nc|\ndecision 0 1 trill\\nown\ntaps 0 60 3 - -7\nfree 1 2 2\n")
	f.Add("day 2026-11-25 1 2 3 4 5 6 + 7\nname \\\\\nunaided 1 2\n")
	f.Fuzz(func(t *testing.T, text string) {
		for _, kind := range []packet.Kind{packet.TaskKind, packet.ReportKind} {
			letters := packet.Pack(kind, text)
			if task, err := packet.DecodeTask(letters); err == nil {
				_, err := packet.DecodeTask(packet.EncodeTask(task))
				require.True(t, err == nil || errors.Is(err, packet.ErrLarge), "%v", err)
			}
			if report, err := packet.DecodeReport(letters); err == nil {
				require.LessOrEqual(t, len(packet.EncodeReport(report)), packet.MaxReport)
			}
		}
	})
}

// A number outside its limits is left at its default and named; the rest of the
// task opens.
func TestNumbersOutsideTheirLimits(t *testing.T) {
	const score = "score X:1\\nK:C\\nc|\n"
	for _, tc := range []struct {
		line string
		want packet.Task
	}{
		{"goal 1", packet.Task{Goal: 1}},
		{"goal 2000", packet.Task{Goal: 2000}},
		{"goal 0.999", packet.Task{Unread: []string{packet.Goal}}},
		{"goal 2000.1", packet.Task{Unread: []string{packet.Goal}}},
		{"goal 1e-300", packet.Task{Unread: []string{packet.Goal}}},
		{"goal NaN", packet.Task{Unread: []string{packet.Goal}}},
		{"goal +Inf", packet.Task{Unread: []string{packet.Goal}}},
		{"goal -Inf", packet.Task{Unread: []string{packet.Goal}}},
		{"goal 1e999", packet.Task{Unread: []string{packet.Goal}}},
		{"goal fast", packet.Task{Unread: []string{packet.Goal}}},
		{"percent 1", packet.Task{Percent: 1}},
		{"percent 1000", packet.Task{Percent: 1000}},
		{"percent 0.5", packet.Task{Unread: []string{packet.Percent}}},
		{"percent 1001", packet.Task{Unread: []string{packet.Percent}}},
		{"rate 2", packet.Task{Rate: 2}},
		{"rate 16", packet.Task{Rate: 16}},
		{"rate 1.9", packet.Task{Unread: []string{packet.Rate}}},
		{"rate 16.1", packet.Task{Unread: []string{packet.Rate}}},
		{"pitch 300", packet.Task{Pitch: 300}},
		{"pitch 600", packet.Task{Pitch: 600}},
		{"pitch 299", packet.Task{Unread: []string{packet.Pitch}}},
		{"pitch NaN", packet.Task{Unread: []string{packet.Pitch}}},
		{"goal 1e9\ngoal NaN\nrate 0", packet.Task{Unread: []string{packet.Goal, packet.Rate}}},
	} {
		got, err := packet.DecodeTask(packet.Pack(packet.TaskKind, tc.line+"\n"+score))
		require.NoError(t, err, tc.line)
		tc.want.Score = "X:1\nK:C\nc|"
		got.Score = strings.TrimSpace(got.Score)
		assert.Equal(t, tc.want, got, tc.line)
		assert.Equal(t, tc.want.ID(), got.ID(), "what was left out has no part in the name")
	}
}

func TestReportNumbersOutsideTheirLimits(t *testing.T) {
	const date = "2026-11-25"
	for _, tc := range []struct {
		line string
		want packet.Report
	}{
		{"goal 72", packet.Report{Goal: 72}},
		{"goal NaN", packet.Report{Unread: []string{"goal"}}},
		{"unaided 4 9", packet.Report{Unaided: 9, CleanUnaided: 4}},
		{"unaided 9 4", packet.Report{Unaided: 4, Unread: []string{"unaided"}}},
		{"unaided -1 100001", packet.Report{Unread: []string{"unaided"}}},
		{"day " + date + " 1440 1440 5 5 2000 -100000 + 2000", packet.Report{Days: []packet.Day{{Date: date, Tapped: 1440, Piano: 1440, Rounds: 5, Clean: 5, ColdTempo: 2000, ColdLate: -100000, ColdClean: true, Reached: 2000}}}},
		{"day " + date + " 1441 1441 5 6 2001 -100001 - Inf", packet.Report{Days: []packet.Day{{Date: date, Rounds: 5}}, Unread: []string{date}}},
		{"day " + date + " x x x x x x x x", packet.Report{Days: []packet.Day{{Date: date}}, Unread: []string{date}}},
		{"day 2026+11-25 1 1 1 1 1 1 - 1", packet.Report{}},
		{"day 2026-1a-25 1 1 1 1 1 1 - 1", packet.Report{}},
	} {
		got, err := packet.DecodeReport(packet.Pack(packet.ReportKind, tc.line+"\n"))
		require.NoError(t, err, tc.line)
		assert.Equal(t, tc.want, got, tc.line)
	}
}
