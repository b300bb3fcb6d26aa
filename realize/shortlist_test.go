package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize"
	"agremens/realize/score"
)

// At most six choices, the plain note and one appoggiatura among them.
// Common practice, no source: what a lesson has time to compare.
func TestAFewChoicesOfEach(t *testing.T) {
	for _, sign := range []string{"T", "P", "M", "!turn!", "!delayedturn!", "!invertedturn!", "P!turn!", "!longmordent!", "{d}", "{B/2}", "{/d/2}"} {
		for _, tempo := range []float64{48, 126} {
			for _, length := range []string{"/2", "3/2", "4"} {
				p := passage(t, "X:1\nM:none\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n[V:R] d "+sign+"c"+length+" B c |]\n[V:L] C,/2 E,/2 G,/2 C/2 G, E, C,2 |]\n")
				for _, tr := range realize.Traditions() {
					for _, prefer := range []realize.Preference{realize.Sources, realize.Performers} {
						o := realize.Read(p, realize.Taste{Tradition: tr.Key, Tempo: tempo, Prefer: prefer}).Ornaments[0]
						plain, leaning := 0, 0
						for _, c := range o.Choices {
							if c.Key == "plain" {
								plain++
							}
							if n := c.Notes; len(n) == 2 && n[0].Degree*n[0].Degree == 1 && n[1].Degree == 0 {
								leaning++
							}
						}
						at := sign + length + " " + tr.Key + " " + string(prefer)
						assert.LessOrEqual(t, len(o.Choices), realize.MostChoices, at)
						assert.Equal(t, 1, plain, at)
						assert.Positive(t, leaning, at)
					}
				}
			}
		}
	}
}

// What the user has chosen stays in the list though others are preferred now.
func TestTheChosenStays(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\nd Tc2 d |]\n")
	id := realize.Read(p, realize.Taste{Tradition: "bach", Tempo: 72}).Ornaments[0].Note
	for _, key := range []string{"trill.below", "trill.upper.suffix", "trill.main.suffix"} {
		o := realize.Read(p, realize.Taste{Tradition: "bach", Tempo: 72, Chosen: map[score.ID]string{id: key}}).Ornaments[0]
		assert.Equal(t, key, o.Choices[o.Chosen].Key)
		assert.LessOrEqual(t, len(o.Choices), realize.MostChoices)
	}
}
