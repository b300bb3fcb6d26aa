package desk_test

import (
	"testing"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec/abc"
)

// FuzzRestore: whatever was kept of a desk, the passage is whole, a round can
// be laid out or not for a reason, and what is kept then comes back the same.
func FuzzRestore(f *testing.F) {
	open := func() *desk.Desk {
		p, _, err := abc.Decode(assets.Passages()[0].ABC)
		if err != nil {
			f.Fatal(err)
		}
		return desk.New("x", p, realize.Taste{})
	}
	d := open()
	f.Add(d.Save())
	d.Percent, d.Follow.Repeats, d.Tap = 60, true, 2
	f.Add(d.Save())
	f.Add("bars 2-3\nchange transpose+3\nmade 1\nmoment 1+x\nat 0\nselected 99\nnote n7\nclosed n7\nfollow all")
	f.Fuzz(func(t *testing.T, saved string) {
		d := open()
		d.Restore(saved)
		if err := d.Passage.Check(); err != nil {
			t.Fatal(err)
		}
		_, _ = d.Plan(false, 48000)
		kept := d.Save()
		again := open()
		again.Restore(kept)
		if back := again.Save(); back != kept {
			t.Fatalf("kept\n%s\ncomes back as\n%s", kept, back)
		}
	})
}
