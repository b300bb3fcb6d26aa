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
	"agremens/game/engrave"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

func decode(t testing.TB, text string) *score.Passage {
	t.Helper()
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
