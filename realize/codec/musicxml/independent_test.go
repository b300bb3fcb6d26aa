package musicxml_test

import (
	"encoding/json"
	"math"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"agremens/realize/codec/musicxml"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// explained counts the notes that only the other reader has, and why.
var explained = map[string]int{
	// Its value is a whole note in a twelve-in-eight ratio, its length in the
	// file four quarters; the other reader follows the value.
	"Schubert-Impromptu_op90_D899-1": 10,
	// An invisible written-out run sticks out of measure 55 by a twelfth of a
	// quarter; it makes the measure longer and moves all that follows.
	"Beethoven-31-1": 1477,
}

// TestIndependentReader compares the printed notes of each reference score
// (key, onset, duration) with what a general engraving library reads. Printed
// cue notes that close a trill are small notes here (see closingNotes), and
// tuplets that files round to whole divisions are exact here, so that times
// may differ by a fiftieth of a quarter.
//
// It runs where node finds the packages opensheetmusicdisplay and linkedom
// (NODE_PATH).
func TestIndependentReader(t *testing.T) {
	if err := exec.Command("node", "-e", "require.resolve('opensheetmusicdisplay'); require.resolve('linkedom')").Run(); err != nil {
		t.Skip("node with the packages opensheetmusicdisplay and linkedom is not installed")
	}
	files := references(t)
	paths, err := filepath.Glob(filepath.Join(referenceDir(), "scores", "*.musicxml"))
	require.NoError(t, err)
	script, err := filepath.Abs(filepath.Join("testdata", "independent", "read.js"))
	require.NoError(t, err)
	out, err := exec.Command("node", append([]string{script}, paths...)...).Output()
	require.NoError(t, err)
	var read map[string]struct {
		Notes [][3]float64
		Ms    float64
	}
	require.NoError(t, json.Unmarshal(out, &read))
	require.Len(t, read, len(files))
	bytes, ours, theirs := 0, 0.0, 0.0
	for name, data := range files {
		begin := time.Now()
		r, err := musicxml.Decode(data, nil)
		ours += time.Since(begin).Seconds() * 1000
		require.NoError(t, err)
		theirs += read[name].Ms
		bytes += len(data)
		mine := map[int][][2]float64{}
		for _, c := range r.Passage.Chords {
			for _, n := range c.Notes {
				if c.Grace == nil && !c.Hidden && n.Head != "none" {
					mine[n.Pitch.MIDI()] = append(mine[n.Pitch.MIDI()], [2]float64{c.Onset.Float(), c.Dur.Float()})
				}
			}
		}
		only := 0
		for _, n := range read[name].Notes {
			if !take(mine, int(n[0]), n[1], n[2]) {
				only++
			}
		}
		left := 0
		for _, notes := range mine {
			left += len(notes)
		}
		assert.Equal(t, explained[name]+closingNotes[name], only, "%s: notes that only the other reader has", name)
		assert.Equal(t, explained[name], left, "%s: notes that only we have", name)
	}
	mb := float64(bytes) / (1 << 20)
	t.Logf("%d scores, %.1f MB: %.0f ms a MB here, %.0f ms a MB there", len(files), mb, ours/mb, theirs/mb)
}

// take removes a note from the list of its key.
func take(notes map[int][][2]float64, key int, onset, dur float64) bool {
	const near = 1.0 / 50
	for i, n := range notes[key] {
		if math.Abs(n[0]-onset) < near && math.Abs(n[1]-dur) < near {
			notes[key] = append(notes[key][:i:i], notes[key][i+1:]...)
			return true
		}
	}
	return false
}
