package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
)

// Whose practice a name brings, and where the program asks because nothing it
// knows comes from that composer. Clementi wrote a table of his own (London,
// 1801, read), Hummel a method (1828, through Brown); the other assignments are
// from memory, which is why those in between are asked about.
func TestComposersHaveAPracticeOrAreAskedAbout(t *testing.T) {
	const score = "\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n[V:R] Td2 c2 |]\n[V:L] z4 |]\n"
	for _, c := range []struct {
		composer, tradition string
		asks                bool
	}{
		{"Carl Philipp Emanuel Bach", "berlin", false},
		{"C. P. E. Bach", "berlin", false},
		{"Wilhelm Friedemann Bach", "berlin", true},
		{"Johann Christian Bach", "vienna", true},
		{"Johann Sebastian Bach", "bach", false},
		{"George Frideric Handel", "bach", true},
		{"Georg Friedrich Händel", "bach", true},
		{"Domenico Scarlatti", "bach", true},
		{"Antonio Soler", "vienna", true},
		{"Henry Purcell", "english", false},
		{"Thomas Arne", "bach", true},
		{"Maurice Greene", "bach", true},
		{"William Boyce", "bach", true},
		{"John Stanley", "bach", true},
		{"Muzio Clementi", "london", false},
		{"John Field", "romantic", true},
		{"Johann Nepomuk Hummel", "romantic", false},
		{"Frédéric Chopin", "chopin", false},
	} {
		t.Run(c.composer, func(t *testing.T) {
			r := realize.Read(passage(t, "X:1\nC:"+c.composer+score), realize.Taste{Tempo: 72})
			assert.Equal(t, c.tradition, r.Tradition)
			at := asked(r, realize.AboutTradition)
			if !c.asks {
				assert.Negative(t, at)
				return
			}
			require.GreaterOrEqual(t, at, 0, "%+v", r.Questions)
			q := r.Questions[at]
			assert.Greater(t, len(q.Options), 2, "any tradition can be chosen")
			assert.Contains(t, q.Text, lastName(c.composer))
			settled := r.Answer(realize.Taste{Tempo: 72}, at, 1)
			again := realize.Read(passage(t, "X:1\nC:"+c.composer+score), settled)
			assert.Negative(t, asked(again, realize.AboutTradition), "asked once")
			assert.NotEqual(t, c.tradition, again.Tradition)
		})
	}
}

func lastName(composer string) string {
	for i := len(composer) - 1; i >= 0; i-- {
		if composer[i] == ' ' {
			return composer[i+1:]
		}
	}
	return composer
}
