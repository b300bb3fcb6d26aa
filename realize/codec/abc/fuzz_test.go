package abc_test

import (
	"os"
	"testing"

	"golang.org/x/tools/txtar"

	"agremens/assets"
	"agremens/realize/codec/abc"
)

// Decode neither panics nor lies: what it returns passes Check, and what
// Encode writes of it reads back as the same passage.
func FuzzDecode(f *testing.F) {
	for _, e := range assets.Passages() {
		f.Add(e.ABC)
	}
	for _, name := range []string{"testdata/basics.txt", "testdata/errors.txt"} {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		for _, file := range txtar.Parse(data).Files {
			f.Add(string(file.Data))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, _, err := abc.Decode(text)
		if err != nil {
			if p != nil {
				t.Fatal("a passage beside an error")
			}
			return
		}
		if err := p.Check(); err != nil {
			t.Fatal(err)
		}
		written := abc.Encode(p)
		q, _, err := abc.Decode(written)
		if err != nil {
			t.Fatalf("%v in\n%s", err, written)
		}
		if a, b := p.Format(), q.Format(); a != b {
			t.Fatalf("from\n%s\nwritten as\n%s\ngives\n%s\nnot\n%s", text, written, b, a)
		}
	})
}
