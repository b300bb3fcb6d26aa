package lesson_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/game/lesson"
	"agremens/realize"
	"agremens/realize/codec"
	"agremens/realize/codec/packet"
)

// Eight bars of each reference score arrive as they were set, however they are
// written; the log says how long the links are.
func TestReferenceScoresArrive(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	folder := os.Getenv("AGREMENS_REFERENCE")
	if folder == "" {
		folder = "../../../shared/reference"
	}
	if _, err := os.Stat(folder); err != nil {
		t.Skip("no reference data beside the project")
	}
	files, err := filepath.Glob(filepath.Join(folder, "scores", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	tasks, codes, longest := 0, 0, 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		p, _, err := codec.Decode(data, nil)
		require.NoError(t, err)
		d := desk.New("file", p, realize.Taste{})
		for start := 0; start < len(p.Measures) && start < 80; start += 8 {
			d.From, d.To = start, min(start+8, len(p.Measures))
			if len(d.Inside()) == 0 {
				continue
			}
			task, err := lesson.Set(d, lesson.Wish{Words: "Start each trill with the left hand."})
			if !assert.NoError(t, err, "%s, measures %d-%d", filepath.Base(file), start, d.To) {
				continue
			}
			letters := packet.EncodeTask(task)
			got, err := packet.DecodeTask(letters)
			require.NoError(t, err)
			h, said, err := lesson.Open(got, instruments, nil)
			require.NoError(t, err)
			assert.Empty(t, said)
			assert.Equal(t, sounding(d), sounding(h.Desk), "%s, measures %d-%d", filepath.Base(file), start, d.To)
			tasks++
			longest = max(longest, len(letters))
			if len(letters) <= packet.MaxSquare-80 {
				codes++
			}
		}
	}
	t.Logf("%d tasks of up to eight bars, %d fit into one square code, the longest has %d letters", tasks, codes, longest)
	assert.Greater(t, tasks, 100)
}
