package packet_test

import (
	"encoding/base64"
	"fmt"
	"math/rand"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
	"rsc.io/qr"

	"agremens/realize/codec/packet"
)

const aScore = "score X:1\\nK:C\\nc|\n"

// decoded reads lines as a task; a score is added.
func decoded(t *testing.T, lines string) packet.Task {
	t.Helper()
	task, err := packet.DecodeTask(packet.Pack(packet.TaskKind, lines+aScore))
	require.NoError(t, err)
	return task
}

// Texts from outside are cut: a name or title after 120 letters, the
// teacher's words after 600, whatever bytes a letter takes.
func TestTextsAreCut(t *testing.T) {
	long := strings.Repeat("ü", 700)
	var lines string
	for _, name := range []string{"title", "bars", "tradition", "prefer", "hand", "hear", "follow", "instrument", "tuning", "words"} {
		lines += name + " " + long + "\n"
	}
	task := decoded(t, lines)
	name := strings.Repeat("ü", 120)
	assert.Equal(t, strings.Repeat("ü", packet.MaxWords), task.Words)
	for _, got := range []string{task.Title, task.Bars, task.Tradition, task.Prefer, task.Hand, task.Hear, task.Follow, task.Instrument, task.Tuning} {
		assert.Equal(t, name, got)
	}
	whole := strings.Repeat("ü", 120)
	assert.Equal(t, whole, decoded(t, "title "+whole+"\n").Title, "120 letters are not cut")

	report, err := packet.DecodeReport(packet.Pack(packet.ReportKind, "name "+long+"\ntask "+long+"\ntitle "+long+"\nbars "+long+"\nfault "+long+"\npacked abc\n"))
	require.NoError(t, err)
	assert.Equal(t, packet.Report{Name: name, Task: strings.Repeat("ü", 16), Title: name, Bars: name, Fault: name, Packed: "abc"}, report)
}

// Control characters could hide or disguise what is shown; line breaks belong
// to a teacher's words.
func TestControlCharactersAreLeftOut(t *testing.T) {
	assert.Equal(t, "ab\nc d", decoded(t, "words a\x00\x1bb\\nc\x7f d\uFFFD\n").Words)
	assert.Equal(t, "a~", decoded(t, "title a~\n").Title)
	assert.Equal(t, "a b", decoded(t, "title a b\n").Title)
}

// Line breaks and backslashes in a value come back; a backslash before any
// other letter stands for that letter, and one at the end for itself.
func TestEscapes(t *testing.T) {
	for written, want := range map[string]string{
		`a\nb`: "a\nb", `a\\nb`: `a\nb`, `a\qb`: "aqb", `a\`: `a\`, `\\`: `\`, `\n`: "\n", `a\\\nb`: "a\\\nb",
	} {
		assert.Equal(t, want, decoded(t, "title "+written+"\n").Title, written)
	}
	assert.Empty(t, decoded(t, "title\n").Title, "a name without a value is no line")
}

// Lists are bounded, each word of them too.
func TestListsAreCut(t *testing.T) {
	long := strings.Repeat("k", 200)
	task := decoded(t, "kinds "+strings.Repeat(long+" ", 25)+"\nnumbers "+strings.Repeat("7 ", 2001)+"\n")
	require.Len(t, task.Kinds, 24)
	assert.Len(t, task.Kinds[0], 120)
	assert.Len(t, task.Numbers, 2000)
	assert.Len(t, decoded(t, "kinds "+strings.Repeat("k ", 24)+"\n").Kinds, 24)

	task = decoded(t, strings.Repeat("decision 1 0 plain\n", 2001)+strings.Repeat("fingers 1 0 plain\\n3 2\n", 2001)+"free "+strings.Repeat("1 ", 2001)+"\n")
	assert.Len(t, task.Decisions, 2000)
	assert.Len(t, task.Fingers, 2000)
	assert.Len(t, task.Free, 2000)
}

// A place in a list is a number from 0 to a million or so; a list of places
// holds each once, in order, as distances.
func TestPlaces(t *testing.T) {
	for written, want := range map[string][]int{
		"0 1 2": {0, 1, 3}, "5 0 3": {5, 8}, "-1 2": {2}, "x 4 1": {4, 5}, "1048575": {1048575}, "1048576": nil, "": nil,
	} {
		assert.Equal(t, want, decoded(t, "free "+written+"\n").Free, written)
		assert.Equal(t, want, decoded(t, "crossed "+written+"\n").Crossed, written)
	}
	rapid.Check(t, func(t *rapid.T) {
		all := rapid.SliceOfDistinct(rapid.IntRange(0, 5000), rapid.ID[int]).Draw(t, "places")
		slices.Sort(all)
		got, err := packet.DecodeTask(packet.EncodeTask(packet.Task{Score: "x", Free: all, Crossed: all}))
		require.NoError(t, err)
		assert.Equal(t, len(all), len(got.Free))
		if len(all) > 0 {
			assert.Equal(t, all, got.Free)
			assert.Equal(t, all, got.Crossed)
		}
	})
}

// What is decided for an ornament names it, the pass and the choice; a line
// without one of these decides nothing.
func TestDecisions(t *testing.T) {
	task := decoded(t, "decision 3 2 trill.upper\\nD5 0 1/4\ndecision 3 2\ndecision -1 0 x\ndecision 1 y x\ndecision 4 0 two words\nfingers 2 0 plain\\n3 2 3\n")
	assert.Equal(t, []packet.Decision{{Ornament: 3, Pass: 2, Choice: "trill.upper", Own: "D5 0 1/4"}, {Ornament: 4, Choice: "two words"}}, task.Decisions)
	assert.Equal(t, []packet.Fingers{{Ornament: 2, Choice: "plain", Fingers: "3 2 3"}}, task.Fingers)
	own := decoded(t, "decision 1 0 own\\n"+strings.Repeat("a", 5000)+"\n").Decisions[0].Own
	assert.Len(t, own, 4000, "a realization of one's own is cut after so many letters")
}

// Numbers are written with six digits, and zeros not at all.
func TestNumbersAreWritten(t *testing.T) {
	task := packet.Task{Score: "x", Goal: 72.123456789, Percent: 0, Pitch: 415.3}
	got, err := packet.DecodeTask(packet.EncodeTask(task))
	require.NoError(t, err)
	assert.Equal(t, 72.1235, got.Goal)
	assert.Zero(t, got.Percent)
	assert.Equal(t, 415.3, got.Pitch)
}

// A name that is not known is passed over: a newer program wrote it.
func TestUnknownLines(t *testing.T) {
	assert.Equal(t, "t", decoded(t, "colour blue\ntitle t\n\n nothing\n").Title)
}

// Exactly as many letters as may be are read; one more is refused before
// anything is unpacked.
func TestHowManyLettersAreRead(t *testing.T) {
	letters := packet.EncodeTask(packet.Task{Score: "x"})
	padded := letters + strings.Repeat(" ", packet.MaxLetters-len(letters))
	_, err := packet.DecodeTask(padded)
	assert.NoError(t, err)
	_, err = packet.DecodeTask(padded + " ")
	assert.ErrorIs(t, err, packet.ErrLarge)
}

// A megabyte is read, a byte more is not.
func TestHowMuchIsUnpacked(t *testing.T) {
	for size, want := range map[int]error{1 << 20: nil, 1<<20 + 1: packet.ErrLarge} {
		lines := "score x\nsome " + strings.Repeat("a", size-len("score x\nsome \n")) + "\n"
		require.Len(t, lines, size)
		_, err := packet.DecodeTask(packet.Pack(packet.TaskKind, lines))
		assert.ErrorIs(t, err, want, "%d bytes", size)
	}
}

// Any beginning of a packet long enough to tell its kind is called cut off,
// however many letters are left.
func TestEveryCutIsTold(t *testing.T) {
	letters := packet.EncodeTask(packet.Task{Score: "X:1\nK:C\ncdef|\n", Title: "A tune"})
	for n := 2; n < len(letters); n++ {
		_, err := packet.DecodeTask(letters[:n])
		assert.ErrorIs(t, err, packet.ErrCut, "%d letters", n)
		_, err = packet.KindOf(letters[:n])
		assert.ErrorIs(t, err, packet.ErrCut, "%d letters", n)
	}
	for n := range 2 {
		_, err := packet.DecodeTask(letters[:n])
		assert.ErrorIs(t, err, packet.ErrForeign, "%d letters tell no kind", n)
	}
	kind, err := packet.KindOf(packet.EncodeReport(packet.Report{Name: "A"}))
	require.NoError(t, err)
	assert.Equal(t, packet.ReportKind, kind)
	raw, err := base64.RawURLEncoding.DecodeString(letters)
	require.NoError(t, err)
	raw[1] = 2
	_, err = packet.DecodeTask(base64.RawURLEncoding.EncodeToString(raw))
	assert.ErrorIs(t, err, packet.ErrNewer, "the next version")
}

// reported is a report of so many days.
func reported(days int) packet.Report {
	r := packet.Report{Name: "Ada", Title: "x"}
	for i := range days {
		r.Days = append(r.Days, packet.Day{Date: fmt.Sprintf("2026-11-%02d", i+1), Tapped: i + 1, Rounds: 20, Clean: 10, ColdTempo: 60, ColdLate: -20, ColdClean: i%2 == 0, Reached: 72})
	}
	return r
}

// Three weeks are told, the latest; whoever reads takes no more either.
func TestHowManyDaysAreTold(t *testing.T) {
	for days, first := range map[int]string{21: "2026-11-01", 22: "2026-11-02", 25: "2026-11-05"} {
		got, err := packet.DecodeReport(packet.EncodeReport(reported(days)))
		require.NoError(t, err)
		require.Len(t, got.Days, 21)
		assert.Equal(t, first, got.Days[0].Date)
		assert.Equal(t, reported(days).Days[days-21:], got.Days)
	}
	got, err := packet.DecodeReport(packet.Pack(packet.ReportKind, strings.Repeat("day 2026-11-25 1 1 1 1 1 1 - 1\n", 22)))
	require.NoError(t, err)
	assert.Len(t, got.Days, 21)
	got, err = packet.DecodeReport(packet.Pack(packet.ReportKind, "day 2026-11-25 1 1 1 1 1 1 -\nday 2026-11-2 1 1 1 1 1 1 - 1\nday 2026-11-26 1 1 1 1 1 1 + 1 more\nunaided 1\n"))
	require.NoError(t, err)
	require.Len(t, got.Days, 1, "a line too short and a date too short tell no day")
	assert.True(t, got.Days[0].ColdClean)
	assert.Zero(t, got.Unaided)
}

// letters are so many that hardly compress.
func letters(n int, seed int64) string {
	source := rand.New(rand.NewSource(seed))
	b := make([]byte, n)
	for i := range b {
		b[i] = byte('!' + source.Intn(90))
	}
	return string(b)
}

// What a report gives up to stay within its limit, in this order: days but the
// last seven, the task, further days, and at last letters of its texts.
func TestWhatAReportGivesUp(t *testing.T) {
	with := func(task int, days int) packet.Report {
		r := reported(days)
		r.Packed = packet.EncodeTask(packet.Task{Score: "X:1\nK:C\nc|\n", Words: letters(task, 1)})
		return r
	}
	sawSeven, sawTask := false, false
	for n := 0; n <= 1200; n += 10 {
		r := with(n, 21)
		got, err := packet.DecodeReport(packet.EncodeReport(r))
		require.NoError(t, err)
		if got.Packed != "" {
			assert.Equal(t, r.Packed, got.Packed)
			assert.GreaterOrEqual(t, len(got.Days), 7, "the task goes before the last week does")
			assert.False(t, sawTask, "a longer task does not fit where a shorter did not")
			sawSeven = sawSeven || len(got.Days) == 7
		} else {
			sawTask = true
			assert.Len(t, got.Days, 21, "without the task there is room for all days")
		}
		assert.Equal(t, "2026-11-21", got.Days[len(got.Days)-1].Date)
	}
	assert.True(t, sawSeven && sawTask)

	// Fewer days than seven never make room: the task goes.
	got, err := packet.DecodeReport(packet.EncodeReport(with(1200, 3)))
	require.NoError(t, err)
	assert.Empty(t, got.Packed)
	assert.Len(t, got.Days, 3)
	got, err = packet.DecodeReport(packet.EncodeReport(with(10, 3)))
	require.NoError(t, err)
	assert.NotEmpty(t, got.Packed, "but not where it fits")

	// A title too long for a report takes the days but one, then itself.
	r := reported(21)
	r.Title, r.Name, r.Bars, r.Fault = letters(1500, 2), strings.Repeat("n", 60), strings.Repeat("b", 60), strings.Repeat("f", 60)
	packed := packet.EncodeReport(r)
	assert.LessOrEqual(t, len(packed), packet.MaxReport)
	got, err = packet.DecodeReport(packed)
	require.NoError(t, err)
	require.Len(t, got.Days, 1)
	assert.Equal(t, "2026-11-21", got.Days[0].Date)
	assert.Equal(t, packet.Report{Name: r.Name[:40], Title: r.Title[:120], Bars: r.Bars[:20], Fault: r.Fault[:40], Days: got.Days}, got)
}

// Rounds without help are told together, where there were any.
func TestRoundsWithoutHelp(t *testing.T) {
	for _, r := range []packet.Report{{Unaided: 9, CleanUnaided: 4}, {Unaided: 9}, {}} {
		got, err := packet.DecodeReport(packet.EncodeReport(r))
		require.NoError(t, err)
		assert.Equal(t, r, got)
	}
}

// The picture shows the code's modules, black on white, with four free ones
// around, as ISO/IEC 18004 asks for; another library's code is the source.
func TestSquareShowsTheCode(t *testing.T) {
	for _, text := range []string{"a", "https://example.org/#task=" + strings.Repeat("aB3", 100), strings.Repeat("a", packet.MaxSquare)} {
		code, err := qr.Encode(text, qr.L)
		require.NoError(t, err)
		svg, err := packet.Square(text)
		require.NoError(t, err)
		size := code.Size + 8
		assert.Contains(t, string(svg), fmt.Sprintf(`viewBox="0 0 %d %d"`, size, size))
		_, path, ok := strings.Cut(string(svg), `z"/><path d="`)
		require.True(t, ok)
		black := map[[2]int]bool{}
		for _, run := range strings.SplitAfter(strings.TrimSuffix(path, `"/></svg>`), "z") {
			var x, y, n, back int
			if run == "" {
				continue
			}
			_, err := fmt.Sscanf(run, "M%d %dh%dv1H%dz", &x, &y, &n, &back)
			require.NoError(t, err, run)
			require.Equal(t, x, back, "each run is closed")
			for k := range n {
				black[[2]int{x + k, y}] = true
			}
		}
		for y := range size {
			for x := range size {
				require.Equal(t, code.Black(x-4, y-4), black[[2]int{x, y}], "%d %d", x, y)
			}
		}
	}
}
