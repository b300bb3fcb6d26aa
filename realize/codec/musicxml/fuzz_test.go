package musicxml_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"
)

// FuzzDecode: whatever the bytes, Decode returns either an error or a passage
// that keeps its promises, and never panics. The passage can be written, and
// what was written can be read.
func FuzzDecode(f *testing.F) {
	paths, err := filepath.Glob(filepath.Join("testdata", "*.musicxml"))
	if err != nil || len(paths) == 0 {
		f.Fatal("no seeds in testdata")
	}
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte("PK\x03\x04"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := musicxml.Decode(data, nil)
		if err != nil {
			if r != nil {
				t.Error("an error and a result")
			}
			if strings.Contains(err.Error(), "do not fit together") {
				t.Error(err) // the reader built what the model forbids
			}
			return
		}
		if err := r.Passage.Check(); err != nil {
			t.Error(err)
		}
		for _, m := range r.Passage.Measures {
			if !m.Onset.Bounded(1<<50) || !m.Length.Bounded(1<<40) {
				t.Error("a time beyond the bounds:", m.Onset, m.Length)
			}
		}
		text, err := musicxml.Encode(r.Passage)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := musicxml.Decode(text, nil); err != nil {
			t.Fatal(err)
		}
	})
}
