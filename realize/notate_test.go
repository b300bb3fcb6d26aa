package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
)

// A tuplet ends where it is full: what a long note holds beyond it is tied on
// in plain values (common practice, no source).
func TestTupletsStandOverNoLongNote(t *testing.T) {
	triplet := score.Value{Type: score.N16th, Actual: 3, Normal: 2}
	w := func(v score.Value, note, tuplet int, tie bool) realize.Written {
		return realize.Written{Value: v, Note: note, Tuplet: tuplet, Tie: tie}
	}
	for _, c := range []struct {
		name string
		durs []music.Frac
		want []realize.Written
	}{
		{"a mordent on a breve less its triplet", []music.Frac{music.F(1, 6), music.F(1, 6), music.F(23, 3)}, []realize.Written{
			w(triplet, 0, 1, false), w(triplet, 1, 1, false), w(triplet, 2, 1, true),
			w(score.Value{Type: score.Whole}, 2, 0, true), w(score.Value{Type: score.Half, Dots: 2}, 2, 0, false),
		}},
		{"on a quarter the last note stays whole", []music.Frac{music.F(1, 6), music.F(1, 6), music.F(2, 3)}, []realize.Written{
			w(triplet, 0, 1, false), w(triplet, 1, 1, false), w(score.Value{Type: score.Quarter, Actual: 3, Normal: 2}, 2, 1, false),
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			choice, at := realize.Choice{}, music.Frac{}
			for _, d := range c.durs {
				choice.Notes = append(choice.Notes, realize.Note{Onset: at, Dur: d})
				at = at.Add(d)
			}
			assert.Equal(t, c.want, realize.Notate(&choice, at))
		})
	}
}
