package score_test

import (
	"reflect"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/assets"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/score"
)

// decode reads a passage from ABC, the shortest way to write one down.
func decode(t require.TestingT, text string) *score.Passage {
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	return p
}

// Values in quarters (common practice, no source).
func TestValueQuarters(t *testing.T) {
	for _, tc := range []struct {
		value score.Value
		want  music.Frac
		flags int
	}{
		{score.Value{}, music.Frac{}, 0},
		{score.Value{Type: score.Long}, music.Int(16), 0},
		{score.Value{Type: score.Breve}, music.Int(8), 0},
		{score.Value{Type: score.Whole}, music.Int(4), 0},
		{score.Value{Type: score.Quarter}, music.Int(1), 0},
		{score.Value{Type: score.Quarter, Dots: 1}, music.F(3, 2), 0},
		{score.Value{Type: score.Half, Dots: 2}, music.F(7, 2), 0},
		{score.Value{Type: score.Eighth}, music.F(1, 2), 1},
		{score.Value{Type: score.Eighth, Actual: 3, Normal: 2}, music.F(1, 3), 1},
		{score.Value{Type: score.N16th, Dots: 1, Actual: 5, Normal: 4}, music.F(3, 10), 2},
		{score.Value{Type: score.N256th}, music.F(1, 64), 6},
	} {
		assert.Equal(t, tc.want, tc.value.Quarters(), tc.value)
		assert.Equal(t, tc.flags, tc.value.Flags(), tc.value)
	}
}

func TestTiedOn(t *testing.T) {
	for _, tc := range []struct {
		name, text string
		from       score.ID
		want       []score.ID
	}{
		{"no tie", "K:C\nA2 A2|", "n1", []score.ID{"n1"}},
		{"two bars", "M:2/4\nK:C\nA4-|A4-|A2 A2|", "n1", []score.ID{"n1", "n2", "n3"}},
		{"one note of a chord", "K:C\n[CE-]2 [DE]2|", "n2", []score.ID{"n2", "n4"}},
		{"small note into its note", "K:C\n{A-}A2 A2|", "n1", []score.ID{"n1", "n2"}},
		{"past small notes", "M:2/4\nK:C\nA4-|{g}A4|", "n1", []score.ID{"n1", "n3"}},
		{"in its own voice", "M:2/4\nK:C\nA4- & A4-|A4 & A4|", "n2", []score.ID{"n2", "n4"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := decode(t, tc.text)
			r, ok := p.Find(tc.from)
			require.True(t, ok)
			var got []score.ID
			for _, r := range p.TiedOn(r) {
				got = append(got, p.At(r).ID)
			}
			assert.Equal(t, tc.want, got)
		})
	}
}

// A tie that the file never ends leads nowhere.
func TestTieWithoutEnd(t *testing.T) {
	p := decode(t, "K:C\nA2 A2|")
	p.Chords[0].Notes[0].TieStart = true
	assert.Len(t, p.TiedOn(score.Ref{}), 1)
}

func TestWalking(t *testing.T) {
	p := decode(t, "M:3/4\nK:G\nD2|G4 A2|[K:D]B2 [K:A]c4|")
	assert.Equal(t, music.Int(7), p.End())
	for _, tc := range []struct {
		onset   music.Frac
		measure int
		fifths  int8
		first   int
	}{
		{music.Int(-1), 0, 1, 0}, {music.Int(0), 0, 1, 0}, {music.F(1, 2), 0, 1, 1}, {music.Int(1), 1, 1, 1},
		{music.Int(4), 2, 2, 3}, {music.Int(5), 2, 3, 4}, {music.Int(99), 2, 3, 5},
	} {
		assert.Equal(t, tc.measure, p.MeasureAt(tc.onset), tc.onset)
		assert.Equal(t, tc.fifths, p.KeyAt(tc.onset).Fifths, tc.onset)
		assert.Equal(t, tc.first, p.FirstAt(tc.onset), tc.onset)
	}
	var empty score.Passage
	assert.Zero(t, empty.End())
	assert.Zero(t, empty.KeyAt(music.Int(1)))
	_, found := p.Find("nobody")
	assert.False(t, found)
}

// Whatever order the chords come in, Sort brings them into the one the type
// promises, and slurs and tuplets still hold the same chords. Small notes keep
// their order among each other.
func TestSort(t *testing.T) {
	want := decode(t, `M:2/4
L:1/8
%%score {R L}
V:R
V:L clef=bass
K:C
[V:R] {gf}e2 (3(cde) | (TB2{cd} c2) |
[V:L] C,2 & E,2 | (G,2 {/B,}C2) |`)
	require.NoError(t, want.Check())
	require.Len(t, want.Slurs, 3)
	require.Len(t, want.Tuplets, 1)
	rapid.Check(t, func(t *rapid.T) {
		p := want.Clone()
		order := rapid.Permutation(indexes(len(p.Chords))).Draw(t, "order")
		order = keepSmallNotes(p, order)
		to := make([]int, len(order))
		shuffled := make([]score.Chord, len(order))
		for at, from := range order {
			shuffled[at], to[from] = p.Chords[from], at
		}
		p.Chords = shuffled
		for i := range p.Slurs {
			p.Slurs[i].From, p.Slurs[i].To = to[p.Slurs[i].From], to[p.Slurs[i].To]
		}
		for i := range p.Tuplets {
			p.Tuplets[i].From, p.Tuplets[i].To = to[p.Tuplets[i].From], to[p.Tuplets[i].To]
		}
		p.Sort()
		if got, wanted := p.Format(), want.Format(); got != wanted {
			t.Fatalf("got\n%s\nwant\n%s", got, wanted)
		}
	})
}

func indexes(n int) []int {
	var all []int
	for i := range n {
		all = append(all, i)
	}
	return all
}

// keepSmallNotes puts the small notes of an order back into file order.
func keepSmallNotes(p *score.Passage, order []int) []int {
	var small []int
	for i := range p.Chords {
		if p.Chords[i].Grace != nil {
			small = append(small, i)
		}
	}
	for at, from := range order {
		if p.Chords[from].Grace != nil {
			order[at], small = small[0], small[1:]
		}
	}
	return order
}

// Each broken promise is found, and named with its measure.
func TestCheck(t *testing.T) {
	whole := "M:2/4\nL:1/8\nK:C\n(!trill![CE]2 (3cde)|{g}f4|"
	for _, tc := range []struct {
		name  string
		spoil func(*score.Passage)
		want  string
	}{
		{"nothing", func(*score.Passage) {}, ""},
		{"negative measure", func(p *score.Passage) { p.Measures[0].Length = music.Int(-1) }, "measure 1 has negative length"},
		{"gap between measures", func(p *score.Passage) { p.Measures[1].Onset = music.Int(5) }, "measure 2 does not start where"},
		{"no measure", func(p *score.Passage) { p.Chords[0].Measure = 9 }, "lies in no measure"},
		{"before its measure", func(p *score.Passage) { p.Chords[len(p.Chords)-1].Onset = music.Int(1) }, "leaves the measure"},
		{"past its measure", func(p *score.Passage) { p.Chords[len(p.Chords)-1].Dur = music.Int(7) }, "leaves the measure"},
		{"order", func(p *score.Passage) { p.Chords[1], p.Chords[2] = p.Chords[2], p.Chords[1] }, "notes out of order"},
		{"no length", func(p *score.Passage) { p.Chords[0].Dur = music.Frac{} }, "has no length"},
		{"double id", func(p *score.Passage) { p.Chords[1].Notes[0].ID = p.Chords[0].Notes[0].ID }, "used twice"},
		{"no id", func(p *score.Passage) { p.Chords[1].Notes[0].ID = "" }, "missing"},
		{"chord order", func(p *score.Passage) {
			n := p.Chords[0].Notes
			n[0], n[1] = n[1], n[0]
		}, "chord notes out of order"},
		{"sign on no note", func(p *score.Passage) { p.Chords[0].Signs[0].Note = 2 }, "sign stands on no note"},
		{"slur", func(p *score.Passage) { p.Slurs[0].To = 99 }, "slur"},
		{"slur backwards", func(p *score.Passage) { p.Slurs[0].From, p.Slurs[0].To = p.Slurs[0].To, p.Slurs[0].From }, "slur"},
		{"tuplet", func(p *score.Passage) { p.Tuplets[0].From = -1 }, "tuplet"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p := decode(t, whole)
			tc.spoil(p)
			err := p.Check()
			if tc.want == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, tc.want)
		})
	}
}

// A clone is equal and shares nothing: whatever is changed in it, the original
// prints as before.
func TestCloneSharesNothing(t *testing.T) {
	for _, e := range assets.Passages() {
		p := decode(t, e.ABC)
		p.Measures[0].Endings, p.Measures[0].Jumps = []int{1}, []string{"segno"}
		p.Measures[0].KeyChanges = []score.KeyChange{{}}
		p.Chords[0].Artic = []score.Articulation{"tenuto"}
		p.Chords[0].Signs = []score.Sign{{Kind: score.Turn, Accidentals: []score.AccidentalMark{{Value: "flat"}}}}
		p.Chords[0].Beams, p.Chords[0].RestPos = []score.Beam{score.BeamBegin}, &music.Pitch{}
		p.Slurs, p.Tuplets = append(p.Slurs, score.Slur{}), append(p.Tuplets, score.Tuplet{})
		p.Marks = append(p.Marks, score.Mark{})
		q := p.Clone()
		require.Equal(t, p, q)
		assertNoSharing(t, e.ID, reflect.ValueOf(p).Elem(), reflect.ValueOf(q).Elem())
	}
}

// assertNoSharing walks two equal values and fails where they share memory.
func assertNoSharing(t *testing.T, path string, a, b reflect.Value) {
	switch a.Kind() {
	case reflect.Slice:
		if a.Len() > 0 {
			assert.NotEqual(t, a.Pointer(), b.Pointer(), "%s is shared", path)
		}
		for i := range a.Len() {
			assertNoSharing(t, path+"["+strconv.Itoa(i)+"]", a.Index(i), b.Index(i))
		}
	case reflect.Pointer:
		if !a.IsNil() {
			assert.NotEqual(t, a.Pointer(), b.Pointer(), "%s is shared", path)
		}
	case reflect.Struct:
		for i := range a.NumField() {
			assertNoSharing(t, path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i))
		}
	}
}

// Accidental words of MusicXML 4.0 (its accidental-value type) and what they
// alter; quarter tones alter nothing we know.
func TestAlter(t *testing.T) {
	for word, want := range map[string]int{
		"sharp": 1, "natural": 0, "flat": -1, "double-sharp": 2, "sharp-sharp": 2, "flat-flat": -2,
		"natural-sharp": 1, "natural-flat": -1,
	} {
		got, ok := score.Alter(word)
		assert.True(t, ok, word)
		assert.Equal(t, want, got, word)
	}
	_, ok := score.Alter("quarter-flat")
	assert.False(t, ok)
}

func TestFormat(t *testing.T) {
	p := decode(t, "T:Air\nM:2/4\nL:1/8\nK:Dm\n(\"_#\"Md2 {/e}^c>d)|")
	assert.Equal(t, `passage "Air" staves 1
clef s1 at 0: G2
measure 1 at 0 for 2, key -1 minor, metre 2/4
1 s1 v1 at 0 for 1: D5 quarter, mordent sharp below
1 s1 v1 at 1 small slash: E5 8th
1 s1 v1 at 1 for 3/4: C#5(sharp) 8th., beam [
1 s1 v1 at 7/4 for 1/4: D5 16th, beam ]<
slur v1 0 D5 to v1 7/4 D5
`, p.Format())
}
