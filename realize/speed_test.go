package realize_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
)

// scoreFiles lists the reference scores, or skips.
func scoreFiles(t *testing.T) []string {
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../shared/reference"
	}
	files, err := filepath.Glob(filepath.Join(root, "scores", "*.musicxml"))
	require.NoError(t, err)
	if len(files) == 0 {
		t.Skipf("no reference scores at %s", root)
	}
	return files
}

// Short ornaments keep a speed, not a share of their note: 70 to 115 ms a note
// at the goal tempo, turns to 130; common practice, no source. Pianists play
// 65 to 90 (measured). Trills keep near the player's rate on notes of any
// length. Only the note held at one end may be longer, and shapes in printed
// shares of the note (four equal notes, a turn in the second half) are what
// their sources print.
func TestOrnamentsKeepTheirSpeed(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	quick := []string{"short.", "mordent.", "turn.held", "turn.main", "turn.inverted", "beat.four", "slide.two", "slide.three", "small.early", "small.beat"}
	short, shakes := 0, 0
	for _, f := range scoreFiles(t) {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		res, err := musicxml.Decode(data, nil)
		require.NoError(t, err)
		for _, rate := range []float64{6, 8, 12} {
			r := realize.Read(res.Passage, realize.Taste{Rate: rate})
			for _, o := range r.Ornaments {
				for _, c := range o.Choices {
					switch c.Key {
					case "short.two", "turn.inverted.even", "trill.two", "trill.three", "trill.four":
						continue // shares, or in step with the other hand
					}
					if len(c.Notes) < 3 {
						continue
					}
					slowest := 0.0 // ms
					switch {
					case strings.HasPrefix(c.Key, "trill."):
						slowest, shakes = 2000/rate, shakes+1
					case hasPrefix(c.Key, quick):
						slowest, short = 150, short+1
					default:
						continue
					}
					at := filepath.Base(f) + " measure " + res.Passage.Measures[o.Measure].Number + " " + c.Key
					assert.LessOrEqual(t, 1000/c.NotesPerSecond, slowest, "%s: %s of %v", at, shown(c), o.Notated)
				}
			}
		}
	}
	t.Logf("%d short ornaments and %d trills keep their speed", short, shakes)
	assert.Greater(t, short, 500)
	assert.Greater(t, shakes, 500)
}

func hasPrefix(s string, prefixes []string) bool {
	for _, p := range prefixes {
		if strings.HasPrefix(s, p) {
			return true
		}
	}
	return false
}

// A trill tied over the bar line has an odd length that no readable value
// divides: the shake keeps its value and one note is held. Common practice, no
// source.
func TestATrillOverTies(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nQ:1/4=108\nK:C\nd Tc3- | c/2 B/2 c3 |]\n")
	want := map[string]string{
		"trill.upper": "D5:1/3 C5:1/3 D5:1/3 C5:1/3 D5:1/3 C5:1/3 D5:1/3 C5:1/3 D5:1/3 C5:1/2",
		"trill.main":  "C5:1/3 D5:1/3 C5:1/3 D5:1/3 C5:1/3 D5:1/3 C5:1/3 D5:1/3 C5:5/6",
	}
	o := realize.Read(p, realize.Taste{Tradition: "bach"}).Ornaments[0]
	found := 0
	for _, c := range o.Choices {
		if notes, ok := want[c.Key]; ok {
			found++
			assert.Equal(t, notes, shown(c))
		}
	}
	assert.Equal(t, len(want), found)
}
