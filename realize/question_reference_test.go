package realize_test

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
)

// Every kind of question comes up in some real score, and an answer other than
// what is assumed changes what sounds; but for the tempo, which may leave the
// figures alone, it changes the line as played too.
func TestQuestionsOnRealScores(t *testing.T) {
	if testing.Short() {
		t.Skip("read in full natively")
	}
	files := referenceScores(t)
	line := func(r *realize.Reading) (out []any) {
		for i := range r.Ornaments {
			if o := &r.Ornaments[i]; len(o.Choices) > 0 {
				out = append(out, o.Choices[o.Chosen].Notes)
			}
		}
		return out
	}
	asked := map[string]int{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		res, err := musicxml.Decode(data, nil)
		require.NoError(t, err)
		r := realize.Read(res.Passage, realize.Taste{})
		sound, figures := fmt.Sprintf("%+v", realize.Perform(r, realize.PerformOptions{})), fmt.Sprint(line(r))
		for i, q := range r.Questions {
			asked[q.About]++
			heard, seen := false, q.About == realize.AboutTempo
			for k := 1; k < len(q.Options); k++ {
				other := realize.Read(res.Passage, r.Answer(realize.Taste{}, i, k))
				heard = heard || fmt.Sprintf("%+v", realize.Perform(other, realize.PerformOptions{})) != sound
				seen = seen || fmt.Sprint(line(other)) != figures
			}
			assert.True(t, heard, "%s: %s: no answer changes what sounds", filepath.Base(f), q.About)
			assert.True(t, seen, "%s: %s: no answer changes the line as played", filepath.Base(f), q.About)
		}
	}
	for _, about := range []string{realize.AboutTempo, realize.AboutTradition, realize.AboutChordSign, realize.AboutSlash, realize.AboutTrillEnd, realize.AboutAccidental} {
		assert.NotZero(t, asked[about], "no score asks about the %s", about)
	}
	t.Log(asked)
}
