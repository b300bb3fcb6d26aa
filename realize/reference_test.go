package realize_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
)

// TestReferenceScores reads real scores: every sign and every small note on a
// note belongs to exactly one ornament, every choice is sound, and the
// performance keeps its time.
func TestReferenceScores(t *testing.T) {
	root := os.Getenv("AGREMENS_REFERENCE")
	if root == "" {
		root = "../../shared/reference"
	}
	if _, err := os.Stat(root); err != nil {
		t.Skipf("no reference scores at %s", root)
	}
	files, err := filepath.Glob(filepath.Join(root, "scores", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			res, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			r := realize.Read(res.Passage, realize.Taste{})
			signs, small := 0, 0
			for i := range res.Passage.Chords {
				c := &res.Passage.Chords[i]
				for _, s := range c.Signs {
					if s.Line == "" || s.Line == "start" || s.Kind == "tremolo" {
						signs++
					}
				}
				if c.Grace != nil {
					small++
				}
			}
			for _, o := range r.Ornaments {
				for _, s := range o.Signs {
					if s != "grace" && s != "slash" && s != "arpeggiate" {
						signs--
					}
				}
				small -= len(o.Graces)
				require.NotEmpty(t, o.Choices)
				assert.LessOrEqual(t, len(o.Choices), realize.MostChoices, "%v at %v", o.Signs, o.Onset)
				for _, c := range o.Choices {
					for _, n := range c.Notes {
						assert.Positive(t, n.Dur.Sign(), "%s at %v", c.Key, o.Onset)
					}
				}
			}
			assert.Zero(t, signs, "signs that belong to no ornament")
			assert.Zero(t, small, "small notes that belong to no ornament")
			for _, n := range realize.Perform(r, realize.PerformOptions{}).Notes {
				require.Positive(t, n.Dur.Sign())
			}
		})
	}
}
