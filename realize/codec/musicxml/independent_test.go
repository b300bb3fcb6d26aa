package musicxml_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"agremens/realize/codec/musicxml"
	"agremens/realize/music"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// differences lists what the two readers read differently in the reference
// scores, and why: the notes that only the other reader has, and those that
// only we have.
var differences = map[string]struct {
	theirs, ours int
	why          string
}{
	"Beethoven-8-1":            {8, 8, closed},
	"Beethoven-11-2":           {16, 16, closed},
	"Beethoven-14-3":           {12, 12, closed},
	"Beethoven-21-1":           {4, 4, closed},
	"Beethoven-21-1_no_repeat": {4, 4, closed},
	"Beethoven-26-3":           {2, 2, closed},
	"Beethoven-26-3_no_repeat": {2, 2, closed},
	// The other reader follows the written value, a whole note in the time of
	// twelve for eight; the length in the file is four quarters, and the bar
	// has four.
	"Schubert-Impromptu_op90_D899-1": {10, 10, "ten whole notes with tremolo strokes carry a tuplet ratio that their length contradicts"},
}

const closed = "two printed cue notes close each trill: small notes here (closingNotes)"

// independent runs the other reader over files, or skips where it is not
// installed: it wants node with opensheetmusicdisplay and linkedom from npm
// (NODE_PATH, or web/e2e/node_modules).
func independent(t testing.TB, args ...string) map[string]struct {
	Notes [][4]float64
	Ms    float64
	Bytes int
} {
	t.Helper()
	if os.Getenv("NODE_PATH") == "" {
		modules, err := filepath.Abs(filepath.Join("..", "..", "..", "web", "e2e", "node_modules"))
		require.NoError(t, err)
		t.Setenv("NODE_PATH", modules)
	}
	if err := exec.Command("node", "-e", "require.resolve('opensheetmusicdisplay'); require.resolve('linkedom')").Run(); err != nil {
		t.Skip("node with the packages opensheetmusicdisplay and linkedom is not installed")
	}
	script, err := filepath.Abs(filepath.Join("testdata", "independent", "read.js"))
	require.NoError(t, err)
	out, err := exec.Command("node", append([]string{script}, args...)...).Output()
	require.NoError(t, err)
	var read map[string]struct {
		Notes [][4]float64
		Ms    float64
		Bytes int
	}
	require.NoError(t, json.Unmarshal(out, &read))
	return read
}

// printed is a note on the page: its key, measure, onset in the measure and
// length, 0 for small notes.
type printed struct {
	key, measure int
	onset, dur   float64
}

func (n printed) String() string {
	return fmt.Sprintf("key %d in measure %d at %.4f for %.4f", n.key, n.measure, n.onset, n.dur)
}

// TestIndependentReader compares the printed notes of each reference score
// (key, onset, duration) with what a general engraving library reads. Tuplets
// that files round to whole divisions are exact here, so that times may differ
// by a fiftieth of a quarter; small notes are compared by key and measure,
// since the other reader gives them no onset of their own.
func TestIndependentReader(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	files := references(t)
	paths, err := filepath.Glob(filepath.Join(referenceDir(), "scores", "*.musicxml"))
	require.NoError(t, err)
	read := independent(t, paths...)
	require.Len(t, read, len(files))
	bytes, ours, theirs, compared := 0, 0.0, 0.0, 0
	for name, data := range files {
		begin := time.Now()
		r, err := musicxml.Decode(data, nil)
		ours += time.Since(begin).Seconds() * 1000
		require.NoError(t, err)
		theirs += read[name].Ms
		bytes += len(data)
		p := r.Passage
		mine := map[[2]int][]printed{}
		for i := range p.Chords {
			c := &p.Chords[i]
			if c.Hidden {
				continue
			}
			onset, dur := c.Onset.Sub(p.Measures[c.Measure].Onset), c.Dur
			if c.Grace != nil {
				onset, dur = music.Frac{}, music.Frac{}
			}
			for _, n := range c.Notes {
				if n.Head != "none" {
					at := [2]int{n.Pitch.MIDI(), c.Measure}
					mine[at] = append(mine[at], printed{at[0], c.Measure, onset.Float(), dur.Float()})
				}
			}
		}
		var only []string
		for _, x := range read[name].Notes {
			n := printed{int(x[0]), int(x[1]), x[2], x[3]}
			if n.dur == 0 {
				n.onset = 0
			}
			if compared++; !take(mine, n) {
				only = append(only, n.String())
			}
		}
		var left []string
		for _, notes := range mine {
			for _, n := range notes {
				left = append(left, n.String())
			}
		}
		slices.Sort(left)
		known := differences[name]
		assert.Len(t, only, known.theirs, "%s: only the other reader has (known: %s)", name, known.why)
		assert.Len(t, left, known.ours, "%s: only we have (known: %s)", name, known.why)
	}
	assert.Greater(t, compared, 40_000)
	mb := float64(bytes) / (1 << 20)
	t.Logf("%d scores, %d notes, %.1f MB: %.0f ms a MB here, %.0f ms a MB there", len(files), compared, mb, ours/mb, theirs/mb)
}

// take removes a note from the list of its key and measure.
func take(notes map[[2]int][]printed, want printed) bool {
	const near = 1.0 / 50
	at := [2]int{want.key, want.measure}
	for i, n := range notes[at] {
		if math.Abs(n.onset-want.onset) < near && math.Abs(n.dur-want.dur) < near && (n.dur == 0) == (want.dur == 0) {
			notes[at] = append(notes[at][:i:i], notes[at][i+1:]...)
			return true
		}
	}
	return false
}
