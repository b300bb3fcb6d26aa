package realize_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize"
)

// What concert pianists play and no treatise prints is offered where its
// reason holds, and only there. Source of the notes: measured performances.
func TestOfferedWhereItsReasonHolds(t *testing.T) {
	const two = "X:1\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n"
	for _, c := range []struct{ name, abc, tradition, key, notes string }{
		{name: "mordent before its lower note", abc: "X:1\nM:4/4\nL:1/4\nK:C\ne Md/4 c3/4 c2 |]\n", tradition: "bach", key: "mordent.two", notes: "0 -1"},
		{name: "mordent on a longer note", abc: "X:1\nM:4/4\nL:1/4\nK:C\ne Md c2 |]\n", tradition: "bach", key: "mordent.two"},
		{name: "mordent before another note", abc: "X:1\nM:4/4\nL:1/4\nK:C\ne Md e2 |]\n", tradition: "bach", key: "mordent.two"},
		{name: "group that nothing strikes with", abc: two + "[V:R] c2 {e/4f/4}g2 |]\n[V:L] C,4 |]\n", tradition: "vienna", key: "small.ahead", notes: "-2 -1 0"},
		{name: "group that a bass strikes with", abc: two + "[V:R] c2 {e/4f/4}g2 |]\n[V:L] C,2 E,2 |]\n", tradition: "vienna", key: "small.ahead"},
		{name: "small note a leap away", abc: "X:1\nM:4/4\nL:1/4\nK:C\ne {G/4}d c2 |]\n", tradition: "romantic", key: "small.astride", notes: "-4 0"},
		{name: "small note a step away", abc: "X:1\nM:4/4\nL:1/4\nK:C\nc {e/4}d c2 |]\n", tradition: "romantic", key: "small.astride"},
	} {
		o := realize.Read(passage(t, c.abc), realize.Taste{Tradition: c.tradition, Tempo: 72}).Ornaments[0]
		got := ""
		for i := range o.Choices {
			if o.Choices[i].Key != c.key {
				continue
			}
			for _, n := range o.Choices[i].Notes {
				got = strings.TrimSpace(got + " " + strconv.Itoa(n.Degree))
			}
			if c.key == "small.ahead" {
				last := o.Choices[i].Notes[len(o.Choices[i].Notes)-1]
				assert.Negative(t, last.Onset.Sign(), "the principal itself comes early")
				assert.True(t, o.Choices[i].Borrows[0].Amount.Cmp(last.Onset.Neg()) > 0, "and what it takes is said")
			}
		}
		assert.Equal(t, c.notes, got, c.name)
	}
}
