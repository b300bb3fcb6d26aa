package realize_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/score"
)

// reference opens a reference score or skips.
func reference(t testing.TB, name string) *score.Passage {
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../shared/reference"
	}
	data, err := os.ReadFile(filepath.Join(root, "scores", name))
	if err != nil {
		t.Skipf("no reference scores at %s", root)
	}
	res, err := musicxml.Decode(data, nil)
	require.NoError(t, err)
	return res.Passage
}

// Runs and cadenzas in small print sound, each of their notes once.
func TestSmallPrintSounds(t *testing.T) {
	for _, c := range []struct {
		file, measure string
		notes         int // cue chords in the measure as the file prints them
	}{
		{"Mozart-Fantasie_475.musicxml", "88", 39},
		{"Beethoven-14-3.musicxml", "187", 30},
		{"Beethoven-17-2.musicxml", "5", 10},
	} {
		t.Run(c.file, func(t *testing.T) {
			p := reference(t, c.file)
			sounding := map[score.ID]int{}
			for _, n := range realize.Perform(realize.Read(p, realize.Taste{}), realize.PerformOptions{}).Notes {
				sounding[n.From]++
			}
			count := 0
			for i := range p.Chords {
				ch := &p.Chords[i]
				if !ch.Cue || ch.IsRest() || ch.Hidden || p.Measures[ch.Measure].Number != c.measure {
					continue
				}
				count++
				for _, n := range ch.Notes {
					if !n.TieStop {
						assert.Equal(t, 1, sounding[n.ID], "%v at %v", n.Pitch, ch.Onset)
					}
				}
			}
			assert.Equal(t, c.notes, count)
		})
	}
}
