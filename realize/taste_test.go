package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

func passage(t *testing.T, text string) *score.Passage {
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	return p
}

func TestAlike(t *testing.T) {
	// The same figure at the same pitch, transposed, and another figure.
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\nd Pc B2 | d Pc B2 | g Pf e2 | A Pc B2 |]\n")
	r := realize.Read(p, realize.Taste{Tradition: "bach", Tempo: 72})
	assert.Equal(t, []string{"o2", "o3"}, r.Alike("o1"))
	assert.Empty(t, r.Alike("o4"))
	q := r.ChooseAlike("o1", 1)
	for i, want := range []int{1, 1, 1, 0} {
		assert.Equal(t, want, q.Ornaments[i].Chosen)
		assert.Zero(t, r.Ornaments[i].Chosen, "the reading itself is unchanged")
	}
	assert.Nil(t, r.Alike("o9"))
}

func TestEdited(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\nTd2 c2 |]\n")
	o := realize.Read(p, realize.Taste{Tradition: "bach", Tempo: 72}).Ornaments[0]
	trill := o.Choices[0]
	require.Equal(t, "E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4", shown(trill))
	for _, c := range []struct {
		name string
		edit realize.Edit
		want string
	}{
		{"nothing", realize.Edit{}, shown(trill)},
		{"one alternation less", realize.Edit{Alternations: -1}, "E5:1/3 D5:1/3 E5:1/3 D5:1/3 E5:1/3 D5:1/3"},
		{"an ending in place of one", realize.Edit{Alternations: -1, Ending: 1}, "E5:1/4 D5:1/4 E5:1/4 D5:1/4 E5:1/4 D5:1/4 C5:1/4 D5:1/4"},
		{"a flat above", realize.Edit{Upper: -1, Alternations: -3}, "Eb5:1 D5:1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := trill.Edited(o.Principal, c.edit)
			require.NoError(t, err)
			assert.Equal(t, c.want, shown(got))
		})
	}
	_, err := trill.Edited(o.Principal, realize.Edit{Alternations: -9})
	assert.ErrorIs(t, err, realize.ErrEdit)
}

func TestOwnLeads(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\nTd2 c2 |]\n")
	o := realize.Read(p, realize.Taste{Tradition: "bach", Tempo: 72}).Ornaments[0]
	mine, err := o.Choices[0].Edited(o.Principal, realize.Edit{Alternations: -2})
	require.NoError(t, err)
	r := realize.Read(p, realize.Taste{Tradition: "vienna", Tempo: 90, Own: map[score.ID]realize.Own{
		o.Note: {Notes: mine.Notes, Why: "page 3 of our edition", Edition: true}}})
	first := r.Ornaments[0].Choices[0]
	assert.Equal(t, "own", first.Key)
	assert.Equal(t, shown(mine), shown(first))
	assert.Contains(t, first.Reason, "page 3")
}

func TestTheDefaultFollowsComposerAndDate(t *testing.T) {
	for _, c := range []struct {
		composer string
		year     int
		want     string
		asked    bool
	}{
		{"Johann Sebastian Bach (1685 - 1750)", 0, "bach", false},
		{"Carl Philipp Emanuel Bach", 0, "berlin", false},
		{"François Couperin", 0, "french", false},
		{"Henry Purcell", 0, "english", false},
		{"W. A. Mozart", 0, "vienna", false},
		{"Ludwig van Beethoven", 1796, "vienna", false},
		{"Ludwig van Beethoven", 1821, "romantic", false},
		{"Muzio Clementi", 0, "london", false},
		{"Franz Schubert", 0, "romantic", false},
		{"", 1735, "bach", false},
		{"", 1755, "berlin", false},
		{"", 1780, "vienna", false},
		{"", 0, "vienna", true},
	} {
		t.Run(c.composer+c.want, func(t *testing.T) {
			p := passage(t, "X:1\nM:4/4\nL:1/4\nQ:1/4=80\nK:C\nTd2 c2 |]\n")
			p.Composer, p.Year = c.composer, c.year
			r := realize.Read(p, realize.Taste{})
			assert.Equal(t, c.want, r.Tradition)
			assert.Equal(t, c.asked, len(r.Questions) > 0)
		})
	}
}

func BenchmarkRead(b *testing.B) {
	text := "X:1\nM:4/4\nL:1/8\nQ:1/4=80\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:D\n"
	for range 100 {
		text += "[V:R] (a Tg2) f Pe2 M^d2 | {f}e2 !turn!d2 {/g}f2 {ef}g2 |\n[V:L] D,A,F,A, C,A,E,A, | B,,F,D,F, A,,E,C,E, |\n"
	}
	p, _, err := abc.Decode(text)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		n = len(realize.Read(p, realize.Taste{}).Ornaments)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(n), "ns/ornament")
	b.ReportMetric(float64(n), "ornaments")
}
