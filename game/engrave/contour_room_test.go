package engrave_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/assets/font"
	"agremens/game/engrave"
)

// Accidentals of one chord stand as near as their outlines allow, and share a
// column where these do not meet, as two flats, sharps or naturals from the
// seventh on (engravers' common practice, no source).
func TestAccidentalsStandByTheirOutlines(t *testing.T) {
	for _, c := range []struct {
		chord  string
		column bool    // both share one
		most   float64 // else the offset of their left edges, in spaces
	}{
		{"[_E_G]", false, 1.05}, {"[_E_B]", false, 1.0}, {"[_E_c]", false, 0.35}, {"[_E_d]", true, 0},
		{"[^E^G]", false, 1.15}, {"[^E^d]", true, 0}, {"[=E=G]", false, 0.85}, {"[=E=d]", true, 0},
		{"[_E^A]", false, 1.15}, {"[__E__d]", true, 0},
	} {
		p := decode(t, "X:1\nL:1/4\nM:1/4\nK:C\n"+c.chord+"|]\n")
		l := engrave.Page(p, nil, 40, engrave.Options{})
		var at []engrave.Box
		for i := range l.Items {
			it := &l.Items[i]
			if classOf(it) == "accidental" && it.Glyph != font.AccidentalParensLeft {
				at = append(at, it.Bounds())
			}
		}
		if !assert.Len(t, at, 2, c.chord) {
			continue
		}
		off := max(at[0].Left-at[1].Left, at[1].Left-at[0].Left)
		if c.column {
			assert.Less(t, off, 0.05, c.chord)
		} else {
			assert.Greater(t, off, 0.2, c.chord)
			assert.LessOrEqual(t, off, c.most, c.chord)
		}
		t.Logf("%s %.2f", c.chord, off)
	}
}
