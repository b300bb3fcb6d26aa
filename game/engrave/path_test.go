package engrave_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/engrave"
	"agremens/realize"
)

// What is printed of an ornament, its sign included, and its outlines.
func TestPrintedSignsHaveAPicture(t *testing.T) {
	seen := 0
	for _, entry := range assets.Passages() {
		p := decode(t, entry.ABC)
		r := realize.Read(p, realize.Taste{})
		for _, o := range r.Ornaments {
			l := engrave.Printed(p, r, o.ID)
			require.NotEmpty(t, l.Items, "%s %s", entry.ID, o.ID)
			signs := 0
			for _, it := range l.Items {
				small := it.Kind == engrave.KindGlyph && it.Scale < 1
				if classOf(&it) == "sign" || small {
					signs++
				}
			}
			assert.NotZero(t, signs, "%s %s %v", entry.ID, o.ID, o.Signs)
			for _, d := range engrave.Paths(l) {
				assert.True(t, strings.HasPrefix(d, "M") && strings.HasSuffix(d, "Z"), d)
				assert.NotContains(t, d, "NaN")
			}
			seen++
		}
		assert.Empty(t, engrave.Printed(p, r, "no such").Items)
	}
	assert.NotZero(t, seen)
}

// Lines, beams and rectangles go the same way round, whatever way they were
// given, so that they do not cancel each other where they cross.
func TestPathsGoOneWayRound(t *testing.T) {
	line := engrave.Item{Kind: engrave.KindLine, X: 0, Y: 1, X2: 4, Y2: 1, W: 0.2}
	back := engrave.Item{Kind: engrave.KindLine, X: 4, Y: 1, X2: 0, Y2: 1, W: 0.2}
	one, other := engrave.Paths(&engrave.Layout{Items: []engrave.Item{line}}), engrave.Paths(&engrave.Layout{Items: []engrave.Item{back}})
	require.Len(t, one, 1)
	assert.Equal(t, area(t, one[0]) > 0, area(t, other[0]) > 0)
	upright := engrave.Item{Kind: engrave.KindLine, X: 2, Y: 3, X2: 2, Y2: -1, W: 0.2}
	assert.Equal(t, area(t, one[0]) > 0, area(t, engrave.Paths(&engrave.Layout{Items: []engrave.Item{upright}})[0]) > 0)
}

// area is twice the signed area of a polygon "Mx yLx y…Z".
func area(t *testing.T, path string) float64 {
	var points [][2]float64
	for _, word := range strings.FieldsFunc(strings.TrimSuffix(path, "Z"), func(r rune) bool { return r == 'M' || r == 'L' }) {
		var x, y float64
		_, err := fmt.Sscan(word, &x, &y)
		require.NoError(t, err)
		points = append(points, [2]float64{x, y})
	}
	sum := 0.0
	for i, p := range points {
		q := points[(i+1)%len(points)]
		sum += p[0]*q[1] - q[0]*p[1]
	}
	return sum
}

// The bars that are not at work, and no others, lie in the boxes.
func TestOutsideIsWhatIsNotAtWork(t *testing.T) {
	p := decode(t, assets.Passages()[0].ABC)
	l := engrave.Page(p, realize.Read(p, realize.Taste{}), 60, engrave.Options{Played: true})
	require.Greater(t, len(l.Systems), 1)
	for from := range len(p.Measures) {
		for to := from + 1; to <= len(p.Measures); to++ {
			boxes := l.Outside(nil, from, to)
			for _, c := range p.Chords {
				if c.Grace != nil || c.Hidden || c.IsRest() {
					continue
				}
				for _, s := range l.Find(c.Notes[0].ID) {
					if s.Index >= 0 {
						continue
					}
					covered := false
					for _, b := range boxes {
						x, y := (s.Box.Left+s.Box.Right)/2, (s.Box.Top+s.Box.Bottom)/2
						covered = covered || x > b.Left && x < b.Right && y > b.Top && y < b.Bottom
					}
					assert.Equal(t, c.Measure < from || c.Measure >= to, covered, "bars %d to %d, note in %d", from, to, c.Measure)
				}
			}
		}
	}
}
