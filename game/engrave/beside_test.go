package engrave_test

import (
	"encoding/json"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/score"
)

// TestSheetBesideAnother writes a page into the folder that AGREMENS_SHEET
// names: of 30 reference scores the three systems with the most faults, and the
// same bars as a general engraving library (verovio from npm) draws them.
func TestSheetBesideAnother(t *testing.T) {
	folder := os.Getenv("AGREMENS_SHEET")
	if folder == "" {
		t.Skip("AGREMENS_SHEET is not set")
	}
	folder, err := filepath.Abs(folder)
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(folder, 0o777))
	const width, scores = 110, 30
	type row struct {
		path, name  string
		p           *score.Passage
		from, to, n int
	}
	var rows []row
	referencePages(t, width, func(path string, p *score.Passage, l *engrave.Layout) {
		f := faults{count: map[string]int{}}
		at := make([]int, len(l.Systems))
		f.told = func(i int, _ string, _, _ float64, _ ...score.ID) { at[i]++ }
		f.look(p, l, width)
		best, most := 0, -1
		for i := range at {
			n := 0
			for _, k := range at[max(0, i-1):min(len(at), i+2)] {
				n += k
			}
			if n > most {
				best, most = i, n
			}
		}
		lo, hi := max(0, best-1), min(len(at), best+2)-1
		rows = append(rows, row{path, strings.TrimSuffix(filepath.Base(path), ".musicxml"), p, l.Systems[lo].From, l.Systems[hi].To, most})
	})
	// As many, as evenly as can be, from first to last.
	chosen := make([]row, 0, scores)
	for i := range min(scores, len(rows)) {
		chosen = append(chosen, rows[i*len(rows)/min(scores, len(rows))])
	}
	var list [][4]any
	page := "<!doctype html><meta charset=utf-8><title>Side by side</title><style>body{font:16px sans-serif}img{width:49%;vertical-align:top}</style>\n"
	for _, r := range chosen {
		l := engrave.Page(r.p, realize.Read(r.p, realize.Taste{}), width, engrave.Options{From: r.from, To: r.to, Played: true})
		ours, theirs := r.name+".ours.svg", r.name+".theirs.svg"
		require.NoError(t, os.WriteFile(filepath.Join(folder, ours), engrave.SVG(l, engrave.SVGOptions{Paper: "#fff"}), 0o666))
		list = append(list, [4]any{r.path, r.from + 1, r.to, filepath.Join(folder, theirs)})
		page += fmt.Sprintf("<h2>%s, measures %s to %s, %d faults of ours</h2><img src=%q> <img src=%q>\n",
			html.EscapeString(r.name), r.p.Measures[r.from].Number, r.p.Measures[r.to-1].Number, r.n, ours, theirs)
	}
	require.NoError(t, os.WriteFile(filepath.Join(folder, "index.html"), []byte(page), 0o666))
	jobs, err := json.Marshal(list)
	require.NoError(t, err)
	file := filepath.Join(folder, "jobs.json")
	require.NoError(t, os.WriteFile(file, jobs, 0o666))
	modules := os.Getenv("NODE_PATH")
	if modules == "" {
		modules, err = filepath.Abs(filepath.Join("..", "..", "web", "e2e", "node_modules"))
		require.NoError(t, err)
	}
	cmd := exec.Command("node", filepath.Join("testdata", "beside", "draw.mjs"), file)
	cmd.Env = append(os.Environ(), "NODE_PATH="+modules)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	t.Log(filepath.Join(folder, "index.html"))
}
