package handout_test

import (
	"encoding/xml"
	"io"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/game/handout"
	"agremens/realize"
	"agremens/realize/codec/abc"
)

func deskOf(t *testing.T, text string) *desk.Desk {
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	return desk.New("x", p, realize.Taste{})
}

var counted = regexp.MustCompile(`<text [^>]*>([^<]+)</text>`)

// The counting under the notes (common practice, no source).
func TestCounting(t *testing.T) {
	for _, tc := range []struct{ name, abc, want string }{
		{"quarters", "M:4/4\nL:1/4\nK:C\nc d e f |]", "1 2 3 4"},
		{"a held note is counted through", "M:4/4\nL:1/4\nK:C\nc4 |]", "1 2 3 4"},
		{"eighths and sixteenths", "M:2/4\nL:1/16\nK:C\nc2d2 efgf |]", "1 & 2 e & a"},
		{"a dotted eighth", "M:2/4\nL:1/16\nK:C\nTc3d e4 |]", "1 a 2"},
		{"triplets", "M:2/4\nL:1/8\nK:C\n(3cde f2 |]", "1 la li 2"},
		{"six eight", "M:6/8\nL:1/8\nK:C\ncde f2g |]", "1 & a 2 a"},
		{"an upbeat", "M:3/4\nL:1/4\nK:C\nc | d e f | g2 |]", "3 1 2 3 1 2"},
		{"thirty-seconds have no word", "M:1/4\nL:1/32\nK:C\ncdefgagf |]", "1 e & a"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			h := handout.Make(deskOf(t, "X:1\n"+tc.abc+"\n"), "", nil)
			var got []string
			for _, m := range counted.FindAllStringSubmatch(string(h.Music), -1) {
				got = append(got, strings.ReplaceAll(m[1], "&amp;", "&"))
			}
			assert.Equal(t, tc.want, strings.Join(got, " "))
		})
	}
}

// Each built-in passage makes a sheet whose picture is whole, with a row for
// every ornament and tempos that rise to the goal.
func TestSheets(t *testing.T) {
	for _, e := range assets.Passages() {
		d := deskOf(t, e.ABC)
		d.SetPercent(60)
		h := handout.Make(d, "  Slowly. ", []string{"echo", "nonsense", "alone"})
		assert.Equal(t, e.Title, h.Title)
		assert.Equal(t, "Slowly.", h.Words)
		assert.Len(t, h.Rows, len(d.Inside()))
		assert.Len(t, h.Kinds, 2)
		for _, r := range h.Rows {
			assert.NotEmpty(t, r.Why)
			assert.NotEmpty(t, r.Sources)
			assert.Contains(t, string(r.Played), "<svg")
		}
		require.NotEmpty(t, h.Tempos)
		assert.LessOrEqual(t, len(h.Tempos), 8)
		assert.Equal(t, d.Goal(), number(t, h.Tempos[len(h.Tempos)-1]))
		dec := xml.NewDecoder(strings.NewReader(string(h.Music)))
		for {
			if _, err := dec.Token(); err == io.EOF {
				break
			} else {
				require.NoError(t, err)
			}
		}
	}
}

func number(t *testing.T, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// Each source stands on the sheet once, and every row names its own by number.
func TestSourcesAreNumbered(t *testing.T) {
	for _, e := range assets.Passages() {
		h := handout.Make(deskOf(t, e.ABC), "", nil)
		require.NotEmpty(t, h.Sources)
		for i, s := range h.Sources {
			assert.True(t, strings.HasPrefix(s, "["+strconv.Itoa(i+1)+"] "), s)
		}
		for _, r := range h.Rows {
			var texts []string
			for _, n := range regexp.MustCompile(`\d+`).FindAllString(r.Numbers, -1) {
				i, err := strconv.Atoi(n)
				require.NoError(t, err)
				_, text, _ := strings.Cut(h.Sources[i-1], "] ")
				texts = append(texts, text)
			}
			assert.Equal(t, r.Sources, strings.Join(texts, "; "), e.ID)
		}
	}
}
