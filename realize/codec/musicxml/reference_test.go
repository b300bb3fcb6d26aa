package musicxml_test

import (
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// references returns the real scores to test against, by name.
func references(t testing.TB) map[string][]byte {
	t.Helper()
	dir := os.Getenv("AGREMENS_REFERENCE")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "..", "shared", "reference")
	}
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("no reference data at %s", dir)
	}
	paths, err := filepath.Glob(filepath.Join(dir, "scores", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, paths, "the reference data hold no scores")
	files := map[string][]byte{}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		files[strings.TrimSuffix(filepath.Base(path), ".musicxml")] = data
	}
	return files
}

// countSigns counts the children of <ornaments> straight from the XML.
func countSigns(t *testing.T, data []byte) map[string]int {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(string(data)))
	counts := map[string]int{}
	inside := false
	for {
		token, err := dec.Token()
		if err == io.EOF {
			return counts
		}
		require.NoError(t, err)
		switch e := token.(type) {
		case xml.StartElement:
			if inside && e.Name.Local != "accidental-mark" {
				counts[e.Name.Local]++
			}
			if e.Name.Local == "ornaments" {
				inside = true
			}
			if e.Name.Local == "grace" {
				counts["grace"]++
			}
		case xml.EndElement:
			if e.Name.Local == "ornaments" {
				inside = false
			}
		}
	}
}

func TestReferenceScores(t *testing.T) {
	for name, data := range references(t) {
		t.Run(name, func(t *testing.T) {
			r, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			require.NoError(t, r.Passage.Check())
			assert.Equal(t, 2, r.Passage.Staves)
			assert.NotEmpty(t, r.Passage.Chords)

			got := map[string]int{}
			closing := 0
			for _, c := range r.Passage.Chords {
				for _, s := range c.Signs {
					got[string(s.Kind)]++
				}
				if c.Grace != nil {
					got["grace"] += len(c.Notes)
					closing++
				}
			}
			want := countSigns(t, data)
			for _, w := range r.Warnings {
				t.Log(w)
			}
			t.Log(len(r.Passage.Measures), len(r.Passage.Chords), len(r.Passage.Slurs), len(r.Passage.Tuplets), len(r.Passage.Tempos), r.Passage.Title, "|", r.Passage.Composer)
			for k := range want {
				if k != "grace" {
					assert.Equal(t, want[k], got[k], k)
				} else if want[k] != got[k] {
					t.Log("graces", want[k], got[k])
				}
			}
		})
	}
}
