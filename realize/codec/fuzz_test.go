package codec_test

import (
	"os"
	"path/filepath"
	"testing"

	"agremens/assets"
	"agremens/realize"
	"agremens/realize/codec"
)

// FuzzOpen goes in by the door that files come through: whatever the bytes,
// there is a passage that keeps its promises and can be read and performed, or
// an error in words.
func FuzzOpen(f *testing.F) {
	for _, e := range assets.Passages() {
		f.Add([]byte(e.ABC), "")
	}
	for _, pattern := range []string{"musicxml/testdata/*.musicxml", "../../cmd/agremens/testdata/malformed/*.mxl", "../../cmd/agremens/testdata/malformed/*.musicxml"} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			f.Fatalf("no seeds in %s", pattern)
		}
		for _, path := range paths {
			data, err := os.ReadFile(path)
			if err != nil {
				f.Fatal(err)
			}
			if len(data) < 64<<10 {
				f.Add(data, "P1")
			}
		}
	}
	f.Add([]byte(quartet), "P2+P1")
	f.Add([]byte("**kern\t**kern\n*clefF4\t*clefG2\n*M2/4\t*M2/4\n=1\t=1\n4C\t4ccTT\n[4D 4F\t(8qqddsSSs\n.\t4ee)\n==\t==\n*-\t*-\n"), "")
	f.Fuzz(func(t *testing.T, data []byte, part string) {
		s, err := codec.Open(data, part, nil)
		if err != nil {
			if s != nil || codec.Words(err) == "" {
				t.Fatalf("an error without words, or with a score: %v", err)
			}
			return
		}
		if err := s.Passage.Check(); err != nil {
			t.Fatal(err)
		}
		if len(s.Passage.Chords) > 2000 {
			return // reading is measured elsewhere
		}
		r := realize.Read(s.Passage, realize.Taste{})
		if len(r.Questions) > 6 {
			t.Fatalf("%d questions", len(r.Questions))
		}
		realize.Perform(r, realize.PerformOptions{})
	})
}
