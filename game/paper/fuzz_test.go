package paper_test

import (
	"testing"

	"agremens/game/paper"
)

// FuzzLoad: whatever was kept of the form, it gives a passage that keeps its
// promises or says what is missing, and keeps itself.
func FuzzLoad(f *testing.F) {
	f.Add("")
	f.Add(paper.New().Save())
	f.Add("key=-3+minor&metre=6/8&tempo=72&year=1720&note=B&octave=4&alter=-1&value=quarter&dots=1&tied=eighth&sign=trill-mark&accidental=sharp&before=A4&after=C5&beneath=triplets&bass=C3")
	f.Fuzz(func(t *testing.T, saved string) {
		form := paper.Load(saved)
		p, _, err := form.Passage()
		if err == nil {
			if err := p.Check(); err != nil {
				t.Fatal(err)
			}
		}
		if again := paper.Load(form.Save()).Save(); again != form.Save() {
			t.Fatalf("%q comes back as %q", form.Save(), again)
		}
	})
}
