package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize"
	"agremens/realize/music"
)

// TestCadences holds what the rules take for a cadence against the cadences
// that experts have marked in sonatas by Mozart and Beethoven (the DCML
// corpora), at the note that follows an ornament or within a quarter of it.
func TestCadences(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	found, right, same, all := 0, 0, 0, 0
	for _, a := range annotatedScores(t) {
		for _, c := range realize.Closes(a.p) {
			marked := a.cadenceAt(c.End)
			all++
			if marked == c.Cadence {
				same++
			}
			if c.Cadence {
				found++
				if marked {
					right++
				} else {
					t.Logf("%s, measure %s: no expert's cadence", a.name, a.p.Measures[a.p.MeasureAt(c.End)].Number)
				}
			}
		}
	}
	t.Logf("%d ornaments: %.1f %% as the experts; of %d cadences found %d are theirs", all, 100*float64(same)/float64(all), found, right)
	assert.GreaterOrEqual(t, float64(right)/float64(found), .85)
	assert.GreaterOrEqual(t, float64(same)/float64(all), .94)
}

// cadenceAt reports whether experts mark a cadence at an onset or less than a
// quarter after it.
func (a *annotated) cadenceAt(onset music.Frac) bool {
	m := a.p.MeasureAt(onset)
	n, numbered := leading(a.p.Measures[m].Number)
	for _, l := range a.lines {
		after := l.onset.Sub(onset.Sub(a.p.Measures[m].Onset))
		if numbered && l.measure == n && l.cadence != "" && !after.Less(music.Frac{}) && after.Cmp(music.Int(1)) <= 0 {
			return true
		}
	}
	return false
}
