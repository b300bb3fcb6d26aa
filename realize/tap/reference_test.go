package tap_test

import (
	"os"
	"path/filepath"
	"testing"

	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/perf"
	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// wantsOf lists what a whole performance asks of both hands.
func wantsOf(p *perf.Performance) []tap.Want {
	counts := map[string]int{}
	for _, n := range p.Notes {
		if n.Ornament != "" {
			counts[n.Ornament] = max(counts[n.Ornament], n.Index+1)
		}
	}
	var want []tap.Want
	for _, n := range p.Notes {
		want = append(want, tap.Want{
			At: 1000 + 1000*p.Tempo.Seconds(n.Onset), Hand: n.Hand, Onset: n.Onset, Note: n.From,
			Ornament: n.Ornament, Index: n.Index, Count: counts[n.Ornament], Degree: n.Degree, Measured: n.Measured,
		})
	}
	return want
}

// A machine that taps every note of a real score with one delay is heard
// exactly so: all hits, each with that delay.
func TestConstantDelayOnScores(t *testing.T) {
	folder := os.Getenv("AGREMENS_REFERENCE")
	if folder == "" {
		folder = filepath.Join("..", "..", "..", "shared", "reference")
	}
	if _, err := os.Stat(folder); err != nil {
		t.Skipf("no reference data at %s", folder)
	}
	files, err := filepath.Glob(filepath.Join(folder, "scores", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			require.NoError(t, err)
			score, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			played := realize.Perform(realize.Read(score.Passage, realize.Taste{}), realize.PerformOptions{})
			want := wantsOf(played)
			for _, delay := range []float64{40, -80} {
				r := tap.Judge(want, exact(want, delay), tap.Options{})
				assert.Zero(t, r.Missed)
				assert.Zero(t, r.Extra)
				off := 0
				for _, m := range r.Marks {
					// Notes of one moment are one onset, and may be up to 5 ms apart.
					if m.Want >= 0 && m.Tap >= 0 && (m.ErrorMS < delay-5.1 || m.ErrorMS > delay+5.1) {
						off++
					}
				}
				assert.Zero(t, off, "of %d marks", len(r.Marks))
				assert.InDelta(t, delay, r.MeanMS, 0.5)
			}
		})
	}
}
