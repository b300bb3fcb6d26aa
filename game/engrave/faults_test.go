package engrave_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/codec/musicxml"
	"agremens/realize/score"
)

// faults are counts over pages of real scores.
type faults struct {
	heads int
	// Pages wider than their paper, and systems that make them so.
	widePages, wideSystems int
	// Glyphs that reach out of their system's staves, by side.
	left, right int
	// Ends of slurs and ties more than three and five spaces from any head or
	// stem; curves that pass through a head.
	far3, far5, through int
	// Characters of titles that are not drawn.
	letters int
	// Measures that print C or ¢; rehearsal marks.
	symbols, rehearsals int

	note func(system int, c *engrave.Item, what string) // told of each curve, may be nil
}

// TestFaultsOnRealPages walks all reference scores, part one and two, and
// prints what an engraver would mark with a red pencil. It takes a minute, so
// it runs where AGREMENS_FAULTS is set; "curves" names every bad slur and tie.
func TestFaultsOnRealPages(t *testing.T) {
	if os.Getenv("AGREMENS_FAULTS") == "" {
		t.Skip("AGREMENS_FAULTS is not set")
	}
	dir := os.Getenv("AGREMENS_REFERENCE")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "shared", "reference")
	}
	const width = 110
	var all faults
	files := 0
	for _, part := range []string{"scores", filepath.Join("second", "scores")} {
		paths, err := filepath.Glob(filepath.Join(dir, part, "*.musicxml"))
		require.NoError(t, err)
		for _, path := range paths {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			read, err := musicxml.Decode(data, nil)
			require.NoError(t, err, path)
			p := read.Passage
			var here faults
			l := engrave.Page(p, realize.Read(p, realize.Taste{}), width, engrave.Options{Played: true, Title: true})
			if os.Getenv("AGREMENS_FAULTS") == "curves" {
				here.note = func(i int, c *engrave.Item, what string) {
					s := &l.Systems[i]
					t.Logf("%s, system %d from measure %s: %s, from %.1f, %.1f to %.1f, %.1f", filepath.Base(path), i+1, p.Measures[s.From].Number, what,
						c.X, c.Y-s.Staves[0], c.X2, c.Y2-s.Staves[0])
				}
			}
			here.look(p, l, width)
			here.note = nil
			files++
			t.Logf("%s %+v", strings.TrimSuffix(filepath.Base(path), ".musicxml"), here)
			all.add(here)
		}
	}
	if files == 0 {
		t.Skipf("no reference data at %s", dir)
	}
	t.Logf("%d files: %+v", files, all)
}

func (f *faults) add(g faults) {
	f.heads += g.heads
	f.widePages += g.widePages
	f.wideSystems += g.wideSystems
	f.left += g.left
	f.right += g.right
	f.far3 += g.far3
	f.far5 += g.far5
	f.through += g.through
	f.letters += g.letters
	f.symbols += g.symbols
	f.rehearsals += g.rehearsals
}

func (f *faults) look(p *score.Passage, l *engrave.Layout, width float64) {
	for _, r := range p.Title + p.Composer {
		if !font.Has(font.Roman, r) {
			f.letters++
		}
	}
	for i, m := range p.Measures {
		if m.Metre.Symbol != 0 && (i == 0 || m.Metre != p.Measures[i-1].Metre) {
			f.symbols++
		}
	}
	for _, m := range p.Marks {
		if m.Kind == score.Rehearsal {
			f.rehearsals++
		}
	}
	if l.Right > width+1 {
		f.widePages++
	}
	for i := range l.Systems {
		f.system(l, i, width)
	}
}

func (f *faults) system(l *engrave.Layout, index int, width float64) {
	s := &l.Systems[index]
	tell := func(c *engrave.Item, what string) {
		if f.note != nil {
			f.note(index, c, what)
		}
	}
	if s.Right > width+1 {
		f.wideSystems++
	}
	var heads, stems []engrave.Box
	var curves []*engrave.Item
	for i := range l.Items {
		it := &l.Items[i]
		b := it.Bounds()
		if y := (b.Top + b.Bottom) / 2; y < s.Top || y > s.Bottom {
			continue
		}
		switch {
		case it.Kind == engrave.KindGlyph && it.Layer != engrave.LayerStaff && font.Music(it.Glyph):
			if strings.HasPrefix(font.Name(it.Glyph), "notehead") {
				heads = append(heads, b)
				f.heads++
			}
			if b.Right > s.Right+0.3 {
				f.right++
			}
			if b.Left < s.Left-0.3 {
				f.left++
			}
		case it.Kind == engrave.KindLine && math.Abs(it.X-it.X2) < 0.01:
			stems = append(stems, b)
		case it.Kind == engrave.KindCurve && it.W < 0.5 && it.W != it.W2 && it.X2-it.X > 0.1: // no brace, no wavy line, no dash of a slur
			curves = append(curves, it)
		}
	}
	for _, c := range curves {
		for _, end := range [2][2]float64{{c.X, c.Y}, {c.X2, c.Y2}} {
			if end[0] < 12 || end[0] > s.Right-4 {
				continue // it may go on in another system
			}
			d := nearest(end[0], end[1], heads, stems)
			if d > 3 {
				f.far3++
				tell(c, "far end")
			}
			if d > 5 {
				f.far5++
			}
		}
		if crosses(c, heads) {
			f.through++
			tell(c, "through a head")
		}
	}
}

// nearest returns the distance of a point from the nearest of some boxes.
func nearest(x, y float64, lists ...[]engrave.Box) float64 {
	best := math.Inf(1)
	for _, list := range lists {
		for _, b := range list {
			best = min(best, math.Hypot(max(b.Left-x, 0, x-b.Right), max(b.Top-y, 0, y-b.Bottom)))
		}
	}
	return best
}

// crosses reports whether a curve runs through the inside of a head.
func crosses(c *engrave.Item, heads []engrave.Box) bool {
	const inside = 0.25
	for i := 1; i < 40; i++ {
		x, y := c.At(float64(i) / 40)
		for _, b := range heads {
			if x > b.Left+inside && x < b.Right-inside && y > b.Top+inside && y < b.Bottom-inside {
				return true
			}
		}
	}
	return false
}
