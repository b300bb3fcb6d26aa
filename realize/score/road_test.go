package score_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize/music"
	"agremens/realize/score"
)

// measures builds a passage of empty measures from words: "1" is a plain one,
// "|:2" begins a repeat, "3:|" ends one, "4:|x3" is played three times, "e1"
// "e2,3" stand under a bracket, "ds" "dc" "tc" "fine" "segno" "coda" are jumps.
func measures(text string) *score.Passage {
	p := &score.Passage{Staves: 1}
	words := map[string]string{"ds": "dalsegno", "dc": "dacapo", "tc": "tocoda"}
	for i, m := range strings.Split(text, " | ") {
		out := score.Measure{Number: fmt.Sprint(i + 1), Onset: music.Int(int64(4 * i)), Length: music.Int(4), Metre: music.Metre{Beats: 4, Unit: 4}}
		for _, w := range strings.Fields(m) {
			switch {
			case w == "|:":
				out.RepeatStart = true
			case strings.HasPrefix(w, ":|"):
				out.RepeatEnd = true
				if len(w) > 2 {
					out.Times = int(w[3] - '0')
				}
			case w[0] == 'e':
				for _, c := range strings.Split(w[1:], ",") {
					out.Endings = append(out.Endings, int(c[0]-'0'))
				}
			case words[w] != "":
				out.Jumps = append(out.Jumps, words[w])
			default:
				out.Jumps = append(out.Jumps, w)
			}
		}
		p.Measures = append(p.Measures, out)
	}
	return p
}

func roadText(steps []score.Step) string {
	var b strings.Builder
	for _, s := range steps {
		fmt.Fprint(&b, s.Measure+1, " ")
	}
	return strings.TrimSpace(b.String())
}

// The ways are those a musician plays (common practice, no source).
func TestRoad(t *testing.T) {
	all := score.RoadOptions{Repeats: true, Jumps: true}
	for _, tc := range []struct {
		name, text string
		o          score.RoadOptions
		want       string
	}{
		{"straight on", "- | - | -", all, "1 2 3"},
		{"a repeat from the beginning", "- | :| | -", all, "1 2 1 2 3"},
		{"two repeats", "|: | :| | |: | :|", all, "1 2 1 2 3 4 3 4"},
		{"the second without its sign", "- | :| | - | :|", all, "1 2 1 2 3 4 3 4"},
		{"three times", "|: | :|x3 | -", all, "1 2 1 2 1 2 3"},
		{"two endings", "|: | e1 :| | e2 | -", all, "1 2 1 3 4"},
		{"endings of two measures", "|: | e1 | e1 :| | e2 | e2", all, "1 2 3 1 4 5"},
		{"an ending for two passes", "|: | e1,2 :| | e3 | -", all, "1 2 1 2 1 3 4"},
		{"a second ending with dots", "|: | e1 :| | e2 :| | -", all, "1 2 1 3 4"},
		{"a first ending alone", "|: | e1 :| | - | -", all, "1 2 1 3 4"},
		{"endings, then a repeat", "|: | e1 :| | e2 | |: | :|", all, "1 2 1 3 4 5 4 5"},
		{"repeats left out", "|: | e1 :| | e2 | |: | :|", score.RoadOptions{Jumps: true}, "1 3 4 5"},
		{"da capo to the fine", "- | fine | - | dc", all, "1 2 3 4 1 2"},
		{"da capo without repeats", "|: | :| fine | |: | :| dc", all, "1 2 1 2 3 4 3 4 1 2"},
		{"da capo with repeats", "|: | :| fine | |: | :| dc", score.RoadOptions{Repeats: true, Jumps: true, Again: true}, "1 2 1 2 3 4 3 4 1 2 1 2"},
		{"da capo takes the last ending", "|: | e1 :| | e2 fine | - | dc", all, "1 2 1 3 4 5 1 3"},
		{"dal segno", "- | segno | fine | ds", all, "1 2 3 4 2 3"},
		{"dal segno to the coda", "- | segno | tc | ds | coda | -", all, "1 2 3 4 2 3 5 6"},
		{"to coda shown by a coda sign", "- | segno | tc coda | ds | coda | -", all, "1 2 3 4 2 3 5 6"},
		{"jumps left out", "- | segno | tc | ds | coda | -", score.RoadOptions{Repeats: true}, "1 2 3 4 5 6"},
		{"a da capo is followed once", "- | dc | -", all, "1 2 1 2 3"},
		{"dal segno without a segno goes to the beginning", "- | ds", all, "1 2 1 2"},
		{"fine alone", "- | fine | -", all, "1 2 3"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			assert.Equal(t, tc.want, roadText(measures(tc.text).Road(tc.o)))
		})
	}
}

func TestRoadCountsPasses(t *testing.T) {
	assert.Equal(t, []score.Step{{0, 1}, {1, 1}, {0, 2}, {1, 2}, {2, 1}}, measures("|: | :| | -").Road(score.RoadOptions{Repeats: true}))
}

func TestHasRoad(t *testing.T) {
	assert.False(t, measures("- | segno | -").HasRoad())
	assert.True(t, measures("- | :|").HasRoad())
	assert.True(t, measures("- | dc").HasRoad())
}

// Whatever the signs: the way ends, stays inside the piece and never plays a
// measure less often than it says.
func TestRoadEnds(t *testing.T) {
	word := rapid.SampledFrom([]string{"-", "|:", ":|", ":|x9", "e1", "e2", "e1,2", "segno", "coda", "ds", "dc", "tc", "fine"})
	rapid.Check(t, func(t *rapid.T) {
		var text []string
		for range rapid.IntRange(1, 12).Draw(t, "measures") {
			text = append(text, strings.Join(rapid.SliceOfN(word, 1, 3).Draw(t, "signs"), " "))
		}
		p := measures(strings.Join(text, " | "))
		steps := p.Road(score.RoadOptions{Repeats: rapid.Bool().Draw(t, "repeats"), Jumps: rapid.Bool().Draw(t, "jumps"), Again: rapid.Bool().Draw(t, "again")})
		require.LessOrEqual(t, len(steps), 20_000)
		passes := map[int]int{}
		for _, s := range steps {
			passes[s.Measure]++
			require.Equal(t, passes[s.Measure], s.Pass)
		}
	})
}
