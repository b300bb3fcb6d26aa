package tap_test

import (
	"math/rand"
	"testing"

	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
)

// With a scatter of 30 ms two sets of eight starts differ by chance by up to
// 30 ms (teaching notes): twice 30·√(2/8).
func TestChangeNeedsTwiceItsError(t *testing.T) {
	unit := []float64{-1.5, -1, -0.5, 0, 0, 0.5, 1, 1.5} // sample deviation 1
	set := func(middle float64) []float64 {
		var x []float64
		for _, u := range unit {
			x = append(x, middle+30*u)
		}
		return x
	}
	assert.Equal(t, tap.NoClear, tap.CompareStarts(set(160), set(131)).Verdict)
	assert.Equal(t, tap.Better, tap.CompareStarts(set(160), set(129)).Verdict)
	assert.Equal(t, tap.Worse, tap.CompareStarts(set(129), set(160)).Verdict)
	assert.Equal(t, tap.Better, tap.CompareStarts(set(-160), set(60)).Verdict, "nearer to the beat from either side")
	assert.InDelta(t, 15, tap.CompareStarts(set(160), set(160)).SE, 0.01)
	assert.Equal(t, tap.TooFew, tap.CompareStarts(set(160)[:3], set(0)).Verdict)
}

// Where nothing changed, change is claimed in about one case of twenty.
func TestChangeByChance(t *testing.T) {
	r := rand.New(rand.NewSource(9))
	claimed := 0
	for range 4000 {
		var a, b []float64
		for range 8 {
			a, b = append(a, 100+30*r.NormFloat64()), append(b, 100+30*r.NormFloat64())
		}
		if v := tap.CompareUneven(a, b).Verdict; v != tap.NoClear {
			claimed++
		}
	}
	assert.InDelta(t, 0.06, float64(claimed)/4000, 0.02)
}

func TestCompareCleanAndMarks(t *testing.T) {
	assert.Equal(t, tap.NoClear, tap.CompareClean(3, 4, 4, 4).Verdict)
	assert.Equal(t, tap.Better, tap.CompareClean(2, 10, 9, 10).Verdict)
	assert.Equal(t, tap.TooFew, tap.CompareClean(0, 3, 10, 10).Verdict)
	assert.Equal(t, tap.Better, tap.CompareMarks([]float64{1, 1, 0, 1}, []float64{3, 2, 3, 2}).Verdict)
	assert.Equal(t, tap.NoClear, tap.CompareMarks([]float64{1, 2, 1, 2}, []float64{2, 2, 1, 2}).Verdict)
}

func TestColdAndUnaided(t *testing.T) {
	rounds := []tap.Practised{
		{Day: 2, Minute: 30, Passage: "c", Unaided: true},
		{Day: 1, Minute: 9, Passage: "b"},
		{Day: 1, Minute: 5, Passage: "a"},
		{Day: 2, Minute: 10, Passage: "not me", Void: true},
		{Day: 2, Minute: 20, Passage: "d"},
	}
	names := func(rs []tap.Practised) []string {
		var out []string
		for _, r := range rs {
			out = append(out, r.Passage)
		}
		return out
	}
	assert.Equal(t, []string{"a", "d"}, names(tap.Cold(rounds)))
	assert.Equal(t, []string{"c"}, names(tap.Unaided(rounds)))
}
