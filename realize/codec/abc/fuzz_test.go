package abc_test

import (
	"os"
	"strings"
	"testing"

	"golang.org/x/tools/txtar"

	"agremens/assets"
	"agremens/realize/codec/abc"
)

// Decode neither panics nor lies: what it returns passes Check, and what
// Encode writes of it reads back, as the same passage if nothing had to be
// warned of.
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
	f.Add("I:linebreak ! $\nV:R\nV:L clef=bass\n%%score {R | L}\nK:C\nM:3/4\nL:1/4\nQ:1/4=80\nK:D\n[V:R] !^\"#\"!fga|!b3$|\n[V:L] {/g}F3|[M:2/4](3:2:2G,2A,|\n")
	f.Fuzz(func(t *testing.T, text string) {
		p, warnings, err := abc.Decode(text)
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
			t.Fatalf("from %q: %v in\n%s", text, err, written)
		}
		// Marks that stand at no note are lost and brackets over a gap are cut,
		// as Encode says.
		p.Marks, q.Marks, p.Tuplets, q.Tuplets = nil, nil, nil, nil
		if a, b := p.Format(), q.Format(); a != b && len(warnings) == 0 {
			t.Fatalf("from %q\nwritten as\n%s\n%s", text, written, firstDifference(a, b))
		}
	})
}

// firstDifference shows the first line in which two texts differ.
func firstDifference(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range max(len(a), len(b)) {
		x, y := "(end)", "(end)"
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if x != y {
			return "want " + x + "\n got " + y
		}
	}
	return "no difference"
}
