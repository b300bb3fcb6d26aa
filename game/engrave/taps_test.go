package engrave_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/engrave"
)

const fourQuarters = "X:1\nM:4/4\nL:1/4\nK:C\nV:1\nCDEF|\nV:2 bass\nC,4|\n"

// A tap stands to scale beside its note, and each kind has its own shape.
func TestMarksStandToScale(t *testing.T) {
	p := decode(t, fourQuarters)
	l := engrave.Run(p, nil, engrave.Options{PerQuarter: 10})
	id := p.Chords[1].Notes[0].ID
	if p.Chords[1].Staff != 1 {
		id = p.Chords[2].Notes[0].ID
	}
	for _, c := range p.Chords {
		if c.Onset.Float() == 1 {
			id = c.Notes[0].ID
		}
	}
	cases := []struct {
		name  string
		tap   engrave.Tap
		kinds []engrave.Kind
		shift float64 // spaces from the note to the dot
	}{
		{"early", engrave.Tap{Note: id, Wanted: 1, At: 0.95}, []engrave.Kind{engrave.KindLine, engrave.KindLine, engrave.KindGlyph}, -0.5},
		{"late", engrave.Tap{Note: id, Wanted: 1, At: 1.1}, []engrave.Kind{engrave.KindLine, engrave.KindLine, engrave.KindGlyph}, 1},
		{"missed", engrave.Tap{Note: id, Wanted: 1, Missed: true}, []engrave.Kind{engrave.KindCurve, engrave.KindCurve}, 0},
		{"extra", engrave.Tap{At: 1.5, Staff: 2}, []engrave.Kind{engrave.KindLine, engrave.KindLine}, 5},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			items := l.MarkItems([]engrave.Tap{c.tap})
			require.Len(t, items, len(c.kinds))
			for i, k := range c.kinds {
				assert.Equal(t, k, items[i].Kind)
				assert.Equal(t, engrave.LayerMark, items[i].Layer)
			}
			b := items[len(items)-1].Bounds()
			assert.InDelta(t, l.X(1)+c.shift, (b.Left+b.Right)/2, 1e-4)
		})
	}
	assert.Empty(t, l.MarkItems([]engrave.Tap{{Note: "no such note", Wanted: 1, At: 1}}))
}
