package tap_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/realize/words"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// Every fault that can be put in, said in words one can review by eye.
func TestWordsGolden(t *testing.T) { wordsGolden(t, "words.txt", nil, checkWords) }

// wordsGolden compares what is said of every fault in a language with a golden
// file, after a check of each text.
func wordsGolden(t *testing.T, name string, c *words.Catalogue, check func(*testing.T, string)) {
	t.Helper()
	var b strings.Builder
	for k, p := range puts {
		p.words = c
		for n := range 40 {
			r, _ := simulate(int64(1000*k+n), p)
			if len(r.Findings) == 0 || !slices.Contains(p.accept, r.Findings[0].Code) {
				continue
			}
			f := r.Findings[0]
			fmt.Fprintf(&b, "%s: %s\n  child: %s\n  teacher: %s\n  next: %s\n", p.name, f.Code, f.Child, f.Teacher, f.Next)
			for _, text := range []string{f.Child, f.Teacher, f.Next, r.Summary, r.Next} {
				check(t, text)
			}
			break
		}
	}
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.MkdirAll("testdata", 0o755))
		require.NoError(t, os.WriteFile(path, []byte(b.String()), 0o644))
	}
	golden, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(golden), b.String())
}

// Nobody is told that anything is wrong, failed or bad (teaching notes), and
// no place is left unfilled.
func checkWords(t *testing.T, text string) {
	t.Helper()
	assert.NotEmpty(t, text)
	assert.NotContains(t, text, "{")
	for _, word := range []string{"wrong", "fail", "bad", "perfect", "great", "miss!"} {
		assert.NotContains(t, strings.ToLower(text), word)
	}
}

func TestEveryCodeHasWords(t *testing.T) {
	w := tap.English()
	require.NotEmpty(t, tap.Codes())
	assert.ElementsMatch(t, tap.Codes(), slices.Collect(maps.Keys(w.Findings)))
	for code, p := range w.Findings {
		assert.NotEmpty(t, p.Child, code)
		assert.NotEmpty(t, p.Teacher, code)
		assert.NotEmpty(t, p.Next, code)
	}
	for _, v := range []tap.Verdict{tap.Better, tap.Worse, tap.NoClear, tap.TooFew} {
		assert.NotEmpty(t, w.Verdicts[v])
	}
	assert.Contains(t, w.Tired().Next, "Stop")
}

// Under 40 ms against the other hand nothing is marked; from there on the
// size comes in note values first, then in ms rounded to ten.
func TestSizes(t *testing.T) {
	cases := []struct {
		late float64
		said string
	}{
		{39, ""},
		{45, "Each mordent starts about half a thirty-second (50 ms) after the left hand."},
		{70, "Each mordent starts about a third of a sixteenth (70 ms) after the left hand."},
		{104, "Each mordent starts about half a sixteenth (100 ms) after the left hand."},
		{208, "Each mordent starts about a sixteenth (210 ms) after the left hand."},
	}
	const quarter = 60000. / 72
	for _, c := range cases {
		want := study(quarter, mordent, 4)
		r := tap.Judge(want, delayed(want, func(w tap.Want) (float64, bool) {
			return c.late * b2f(w.Ornament != ""), true
		}), tap.Options{BeatMS: quarter})
		if c.said == "" {
			assert.Equal(t, tap.CodeClean, r.Findings[0].Code, "%v", codes(r))
			continue
		}
		assert.Equal(t, c.said, r.Summary)
	}
}

func TestVoiceAndHands(t *testing.T) {
	want := study(800, longTrill, 4)
	for i := range want {
		want[i].Hand = 1 - want[i].Hand // the trills in the left hand
	}
	late := delayed(want, func(w tap.Want) (float64, bool) { return 110 * b2f(w.Ornament != ""), true })
	r := tap.Judge(want, late, tap.Options{BeatMS: 800, Voice: "child"})
	assert.Equal(t, "The right hand was already there. Start with it, not after it.", r.Summary)
	alone := tap.Judge(hand(want, perf.Left), late, tap.Options{BeatMS: 800, Alone: true})
	assert.Contains(t, alone.Summary, "after the beat")
}

func TestDoubt(t *testing.T) {
	want := study(800, longTrill, 4)
	good := exact(want, -20)
	lead := -20.0
	few := hand(want, perf.Right)[:9] // one plain note and a trill
	cases := []struct {
		name string
		want []tap.Want
		taps []tap.Tap
		o    tap.Options
		said string
	}{
		{"nothing to doubt", want, good, tap.Options{BeatMS: 800}, ""},
		{"hardly tapped", want, good[:3], tap.Options{BeatMS: 800}, "Only 3 of 70 notes had a tap: this round does not count."},
		{"no lead", few, exact(few, -20), tap.Options{BeatMS: 800}, tap.English().Lead},
		{"calibrated", few, exact(few, -20), tap.Options{BeatMS: 800, Lead: &lead}, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := tap.Judge(c.want, c.taps, c.o)
			assert.Equal(t, c.said, r.Doubt)
			assert.Equal(t, c.said == "", r.Certain)
		})
	}
}

// What lies in a gap of the clock is neither missed nor extra.
func TestGapsAreNotJudged(t *testing.T) {
	want := study(800, longTrill, 4)
	gap := tap.Span{From: want[2].At - 1, To: want[2].At + 900}
	inside := 0
	for _, w := range want {
		if w.At >= gap.From && w.At <= gap.To {
			inside++
		}
	}
	taps := delayed(want, func(w tap.Want) (float64, bool) { return 0, w.At < gap.From || w.At > gap.To })
	taps = append(taps, tap.Tap{At: gap.From + 333})
	r := tap.Judge(want, taps, tap.Options{BeatMS: 800, Gaps: []tap.Span{gap}})
	assert.Equal(t, len(want)-inside, r.Hit)
	assert.Zero(t, r.Missed)
	assert.Zero(t, r.Extra)
}

// One note is no plural: a round with a single note left out, tapped twice or
// taken by the other hand says so.
func TestOneNoteIsSaidOfOne(t *testing.T) {
	want := study(700, mordent, 4)
	plain := -1
	for i, w := range want {
		if w.Hand == perf.Right && w.Ornament == "" && w.Onset.Den() == 2 {
			plain = i
		}
	}
	require.GreaterOrEqual(t, plain, 0)
	for _, c := range []struct {
		code, child, teacher string
		spoil                func([]tap.Tap, int) []tap.Tap
	}{
		{tap.CodeMissed, "One note was missing. Try it slower.", "One of 50 notes is missing.",
			func(taps []tap.Tap, i int) []tap.Tap { return slices.Delete(taps, i, i+1) }},
		{tap.CodeExtra, "You tapped once too often.", "One extra tap.",
			func(taps []tap.Tap, i int) []tap.Tap {
				return slices.Insert(taps, i+1, tap.Tap{At: taps[i].At + 90, Hand: taps[i].Hand})
			}},
		{tap.CodeWrongHand, "The hands swapped a note. Look which hand has it.", "One note was tapped by the other hand.",
			func(taps []tap.Tap, i int) []tap.Tap { taps[i].Hand = perf.Left; return taps }},
	} {
		r := tap.Judge(want, c.spoil(exact(want, -20), plain), tap.Options{BeatMS: 700})
		require.NotEmpty(t, r.Findings, c.code)
		assert.Equal(t, c.code, r.Findings[0].Code)
		assert.Equal(t, c.child, r.Findings[0].Child)
		assert.Equal(t, c.teacher, r.Findings[0].Teacher)
	}
	w := tap.English()
	for code, p := range w.Single {
		assert.NotEmpty(t, p.Next, code)
		assert.NotEqual(t, w.Findings[code].Teacher, p.Teacher, code)
	}
}
