package realize_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize"
	"agremens/realize/score"
)

// thisShort finds how long a note lasts that a reason calls short.
var thisShort = regexp.MustCompile(`this short.* of ([0-9.]+) s`)

// TestReasonsAreTrue reads all performed scores in the order of the performers,
// with no rate given, and looks for reasons that cannot be true where they
// stand.
func TestReasonsAreTrue(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	composers := []string{"Bach", "Haydn", "Mozart", "Beethoven", "Schubert", "Chopin"}
	eachPerformed(t, func(prefix string, p *score.Passage) {
		for _, tradition := range []string{"", "french"} {
			r := realize.Read(p, realize.Taste{Prefer: "performers", Tradition: tradition})
			for i := range r.Ornaments {
				o := &r.Ornaments[i]
				for k := range o.Choices {
					checkReason(t, prefix, r, o, &o.Choices[k], composers)
				}
			}
		}
	})
}

// TestChangesAreSaid: where the choice that the rules put first makes a fault
// against another voice and another one leads, that one's reason says so.
func TestChangesAreSaid(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	changed := 0
	eachPerformed(t, func(prefix string, p *score.Passage) {
		usual := realize.UsualNames(p)
		for _, o := range realize.Read(p, realize.Taste{}).Ornaments {
			if first := o.Choices[0]; usual[o.ID] != first.Name {
				changed++
				assert.Contains(t, first.Reason, "Otherwise first here, \""+usual[o.ID]+"\"", "%s %s", prefix, o.Note)
			}
		}
	})
	assert.Positive(t, changed)
}

func checkReason(t *testing.T, prefix string, r *realize.Reading, o *realize.Ornament, c *realize.Choice, composers []string) {
	t.Helper()
	small := 0
	if len(o.Graces) == 1 && len(r.Passage.Chords[o.Graces[0]].Notes) > 0 {
		small = r.Passage.Chords[o.Graces[0]].Top().Pitch.Diatonic() - o.Principal.Diatonic()
	}
	if strings.Contains(c.Reason, "falling thirds") {
		assert.Positive(t, small, "%s %s: between falling thirds: %s", prefix, o.Note, c.Reason)
	}
	if m := thisShort.FindStringSubmatch(c.Reason); m != nil {
		seconds, err := strconv.ParseFloat(m[1], 64)
		assert.NoError(t, err)
		assert.Less(t, seconds, 1., "%s %s: %s", prefix, o.Note, c.Reason)
	}
	if small >= 7 || small <= -7 {
		assert.NotContains(t, strings.ToLower(c.Reason), "leans", "%s %s: an octave does not lean", prefix, o.Note)
	}
	if c.Key == "plain" {
		assert.NotContains(t, c.Reason, "too short for your speed", "%s %s: no rate was given", prefix, o.Note)
	}
	if o.Onset.IsZero() {
		assert.NotContains(t, c.Reason, "after a rest", "%s %s: at the beginning nothing rests", prefix, o.Note)
	}
	if r.TempoAssumed {
		for _, w := range c.Warnings {
			assert.NotContains(t, w, "at the goal tempo", "%s %s: too fast at a guess", prefix, o.Note)
		}
	}
	_, figure, told := strings.Cut(c.Reason, "Concert pianists: ")
	if !told {
		return
	}
	named, own := false, false
	for _, who := range composers {
		if strings.Contains(figure, who) {
			named = true
			own = own || strings.Contains(prefix, "/"+who+"/") || who == "Mozart" && strings.Contains(prefix, "batik/")
		}
	}
	assert.True(t, !named || own, "%s %s: a figure of another composer: %s", prefix, o.Note, figure)
}
