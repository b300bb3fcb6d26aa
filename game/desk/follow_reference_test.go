package desk_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/music"
	"agremens/realize/score"
)

// The repeats of real scores can be listened to and tapped along: every onset
// wanted stands in the measure that is played then.
func TestTheRoadOfRealScores(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../../shared/reference"
	}
	files, _ := filepath.Glob(filepath.Join(root, "scores", "*.musicxml"))
	if len(files) == 0 {
		t.Skipf("no reference scores at %s", root)
	}
	followed := 0
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		s, err := codec.Open(data, "", nil)
		require.NoError(t, err)
		p := s.Passage
		d := desk.New("x", p, realize.Taste{})
		require.NoError(t, d.SetBars(""))
		d.Follow = score.RoadOptions{Repeats: true, Jumps: true}
		settings := d.Round(true)
		road := settings.Road(p)
		plan, err := d.Plan(true, 48000)
		require.NoError(t, err, filepath.Base(f))
		if road == nil {
			continue
		}
		followed++
		var length music.Frac
		for _, step := range road[:settings.Legs] {
			length = length.Add(p.Measures[step.Measure].Length)
		}
		assert.Equal(t, length, plan.Sounding.End, filepath.Base(f))
		outside := 0
		for i := range plan.Wants {
			w := &plan.Wants[i]
			at := plan.Sounding.Way[plan.Sounding.Way.At(w.Onset.Float())]
			m := &p.Measures[at.Measure]
			// A small note may come before the beat, in the measure before.
			if w.Ornament == "" && (w.Written.Less(m.Onset) || m.End().Cmp(w.Written) <= 0) {
				outside++
			}
		}
		assert.Zero(t, outside, filepath.Base(f))
	}
	assert.NotZero(t, followed)
	t.Logf("%d of %d scores have repeats or jumps", followed, len(files))
}
