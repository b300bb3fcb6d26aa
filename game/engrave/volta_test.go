package engrave_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets/font"
	"agremens/game/engrave"
)

// Brackets of endings hang at one height, clear of the highest note, sign and
// slur under any of them.
func TestEndingBracketsKeepOffNotes(t *testing.T) {
	for _, ending := range []string{"cdef", "c'd'e'f'", "g'!trill!a'!trill!b'a'", "(c'g'f'c')", "!fermata!c''4", ".a'.b'.c''.d''"} {
		p := decode(t, "X:1\nL:1/4\nM:4/4\nK:C\n|:cdef|1 "+ending+":|2 gfed|]\n")
		l := engrave.Page(p, nil, 70, engrave.Options{})
		var brackets []engrave.Box
		top := 0.0
		for i := range l.Items {
			it := &l.Items[i]
			b := it.Bounds()
			switch {
			case it.Kind == engrave.KindLine && it.Layer == engrave.LayerInk && it.Y == it.Y2 && it.Y < -2.5 && it.X2-it.X > 5:
				brackets = append(brackets, b)
			case it.Kind == engrave.KindGlyph && font.Music(it.Glyph) || it.Kind == engrave.KindCurve:
				if b.Left > 15 {
					top = min(top, b.Top)
				}
			}
		}
		require.Len(t, brackets, 2, ending)
		assert.InDelta(t, brackets[0].Top, brackets[1].Top, 1e-6, ending)
		const hook = 1.9 // a bracket's end reaches down so far
		assert.Less(t, brackets[0].Bottom+hook, top, ending)
	}
}
