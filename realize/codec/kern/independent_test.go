package kern_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize/codec/kern"
)

// independent reads the reference movements with a general engraving library,
// or skips where it is not installed: it wants node with verovio from npm
// (NODE_PATH, or web/e2e/node_modules). AGREMENS_VEROVIO names a file with
// what it printed before.
func independent(t *testing.T) map[string][]struct {
	ID, Pitch   string
	Line, Field int
	Onset, End  float64
} {
	t.Helper()
	references(t)
	modules := os.Getenv("NODE_PATH")
	if modules == "" {
		var err error
		modules, err = filepath.Abs(filepath.Join("..", "..", "..", "web", "e2e", "node_modules"))
		require.NoError(t, err)
	}
	out, err := os.ReadFile(os.Getenv("AGREMENS_VEROVIO"))
	if err != nil {
		if _, err := os.Stat(filepath.Join(modules, "verovio")); err != nil {
			t.Skip("node with the package verovio is not installed")
		}
		paths, err := filepath.Glob(filepath.Join(referenceDir(), "kern", "*", "*.krn"))
		require.NoError(t, err)
		cmd := exec.Command("node", append([]string{filepath.Join("testdata", "independent", "read.mjs")}, paths...)...)
		cmd.Env = append(os.Environ(), "NODE_PATH="+modules)
		out, err = cmd.Output()
		require.NoError(t, err)
	}
	var read map[string][]struct {
		ID, Pitch   string
		Line, Field int
		Onset, End  float64
	}
	require.NoError(t, json.Unmarshal(out, &read))
	return read
}

// TestIndependentReader compares every note (spelled pitch, onset from the
// beginning, length) with what a general engraving library reads.
func TestIndependentReader(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	files := references(t)
	read := independent(t)
	require.Len(t, read, len(files))
	compared, differ := 0, 0
	for name, data := range files {
		r, err := kern.Decode(data, kern.Options{})
		require.NoError(t, err)
		mine := map[string]int{}
		for i := range r.Passage.Chords {
			c := &r.Passage.Chords[i]
			for _, n := range c.Notes {
				mine[heard(n.Pitch.String(), c.Onset.Float(), c.Dur.Float())]++
			}
		}
		var theirs, ours []string
		for _, n := range read[name] {
			compared++
			key := heard(n.Pitch, n.Onset, n.End-n.Onset)
			if mine[key]--; mine[key] < 0 {
				theirs = append(theirs, n.ID+" "+key)
			}
		}
		for key, n := range mine {
			for ; n > 0; n-- {
				ours = append(ours, key)
			}
		}
		slices.Sort(ours)
		differ += max(len(theirs), len(ours))
		if len(theirs)+len(ours) > 0 {
			t.Logf("%s: %d, %d\n%v\n%v", name, len(theirs), len(ours), theirs[:min(12, len(theirs))], ours[:min(12, len(ours))])
		}
	}
	t.Logf("%d notes, %d differ", compared, differ)
	assert.Greater(t, compared, 120_000)
	assert.Zero(t, differ)
}

func heard(pitch string, onset, dur float64) string {
	return fmt.Sprintf("%s at %.5f for %.5f", pitch, onset, dur)
}
