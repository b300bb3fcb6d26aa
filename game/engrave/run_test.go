package engrave_test

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/assets/font"
	"agremens/game/engrave"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

func decode(t require.TestingT, text string) *score.Passage {
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	return p
}

// In a run the middle of every undisplaced head stands at its onset's place,
// which is strictly proportional to time.
func TestRunIsProportional(t *testing.T) {
	for _, entry := range assets.Passages() {
		t.Run(entry.ID, func(t *testing.T) {
			p := decode(t, entry.ABC)
			l := engrave.Run(p, nil, engrave.Options{})
			require.NotEmpty(t, l.Items)
			notes := 0
			for _, c := range p.Chords {
				if c.Grace != nil || len(c.Notes) != 1 {
					continue
				}
				assert.InDelta(t, c.Onset.Float()*l.PerQuarter, l.X(c.Onset.Float()), 1e-6)
				spots := l.Find(c.Notes[0].ID)
				require.NotEmpty(t, spots)
				b := spots[0].Box
				assert.InDelta(t, l.X(c.Onset.Float()), (b.Left+b.Right)/2, 1e-4, string(c.Notes[0].ID))
				notes++
			}
			assert.NotZero(t, notes)
		})
	}
}

func TestSVGIsWellFormed(t *testing.T) {
	for _, entry := range assets.Passages() {
		svg := engrave.SVG(engrave.Run(decode(t, entry.ABC), nil, engrave.Options{}), engrave.SVGOptions{Title: "<" + entry.Title + ">", Head: true})
		d := xml.NewDecoder(strings.NewReader(string(svg)))
		for {
			_, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			require.NoError(t, err)
		}
		assert.NotContains(t, string(svg), "NaN")
		assert.NotContains(t, string(svg), "Inf")
	}
}

// The pinned head follows changes of clef, key and metre.
func TestHeadFollowsChanges(t *testing.T) {
	p := decode(t, "X:1\nM:2/4\nL:1/4\nK:C\ncd|[M:3/4][K:D]efg|[K:clef=bass]C,3|\n")
	l := engrave.Run(p, nil, engrave.Options{})
	require.Len(t, l.Heads, 2)
	has := func(items []engrave.Item, g font.Glyph) bool {
		for _, it := range items {
			if it.Kind == engrave.KindGlyph && it.Glyph == g {
				return true
			}
		}
		return false
	}
	cases := []struct {
		name                string
		onset               float64
		sharp, three, bassy bool
	}{
		{"start", 0, false, false, false},
		{"just before the change", 1.9, false, false, false},
		{"at the change", 2, true, true, false},
		{"at the clef", 5, true, true, true},
		{"after the end", 99, true, true, true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			h := l.HeadAt(c.onset)
			assert.Equal(t, c.sharp, has(h, font.AccidentalSharp))
			assert.Equal(t, c.three, has(h, font.TimeSig3))
			assert.Equal(t, c.bassy, has(h, font.FClef))
		})
	}
}
