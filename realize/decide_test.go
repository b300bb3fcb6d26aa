package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
)

const repeated = "X:1\nM:4/4\nL:1/4\nQ:1/4=72\nK:C\n|: e Td2 c :|\n"

// A decision may differ by pass of a repeat: taste, reading, performance.
func TestDecisionsByPass(t *testing.T) {
	p := passage(t, repeated)
	r := realize.Read(p, realize.Taste{Tradition: "bach"})
	o := r.Ornaments[0]
	plain := -1
	for i, c := range o.Choices {
		if c.Key == "plain" {
			plain = i
		}
	}
	require.Positive(t, plain)
	again := r.ChooseInPass("o1", 2, plain)
	assert.Empty(t, r.Ornaments[0].Passes, "the reading itself is unchanged")
	assert.Equal(t, []realize.PassChoice{{Pass: 2, Choice: plain}}, again.Ornaments[0].Passes)
	assert.Equal(t, 0, again.Ornaments[0].ChosenIn(1))
	assert.Equal(t, plain, again.Ornaments[0].ChosenIn(2))
	assert.Equal(t, plain, again.InPass(2).Ornaments[0].Chosen)

	fromTaste := realize.Read(p, realize.Taste{Tradition: "bach"}.ChooseInPass(o.Note, 2, "plain"))
	assert.Equal(t, again.Ornaments[0].Passes, fromTaste.Ornaments[0].Passes)
	for _, reading := range []*realize.Reading{again, fromTaste} {
		played := realize.PerformAlong(reading, realize.PerformOptions{}, p.Road(score.RoadOptions{Repeats: true}))
		assert.Equal(t, music.Int(8), played.End)
		assert.Equal(t, len(o.Choices[0].Notes), count(played, 0, 4))
		assert.Equal(t, 1, count(played, 4, 8), "plain in the second pass")
	}
	same := realize.PerformAlong(r, realize.PerformOptions{}, p.Road(score.RoadOptions{Repeats: true}))
	assert.Equal(t, count(same, 0, 4), count(same, 4, 8))
	// Passes and choices out of range change nothing.
	assert.Empty(t, r.ChooseInPass("o1", 0, plain).Ornaments[0].Passes)
	assert.Empty(t, r.ChooseInPass("o1", 2, 99).Ornaments[0].Passes)
	// A decision for the note itself takes those for its passes back.
	assert.Empty(t, realize.Taste{}.ChooseInPass(o.Note, 2, "plain").Choose(o.Note, "plain").Passes)
}

func count(p *perf.Performance, from, to int64) int {
	n := 0
	for _, x := range p.Notes {
		if x.Ornament != "" && music.Int(from).Cmp(x.Onset) <= 0 && x.Onset.Less(music.Int(to)) {
			n++
		}
	}
	return n
}

// A standing preference decides where nothing else does.
func TestStandingPreferences(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\nTd2 c2 | Te2 d2 | Mc4 |]\n")
	taste := realize.Taste{Tradition: "bach", Tempo: 72}.Always([]string{"trill-mark"}, "trill.main")
	r := realize.Read(p, taste)
	keyOf := func(r *realize.Reading, i int) string { return r.Ornaments[i].Choices[r.Ornaments[i].Chosen].Key }
	assert.Equal(t, "trill.main", keyOf(r, 0))
	assert.Equal(t, "trill.main", keyOf(r, 1))
	assert.Equal(t, "mordent.single", keyOf(r, 2))
	r = realize.Read(p, taste.Choose(r.Ornaments[1].Note, "plain"))
	assert.Equal(t, "trill.main", keyOf(r, 0))
	assert.Equal(t, "plain", keyOf(r, 1))
	assert.Equal(t, "trill.main", keyOf(realize.Read(p, taste.Choose(r.Ornaments[1].Note, "plain").Forget(r.Ornaments[1].Note)), 1))
}

// One action takes a decision to the places that stand alike, a realization
// of the user's own transposed along the scale.
func TestTakeAlong(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\nd Pc B2 | d Pc B2 | g Pf e2 | A Pc B2 |]\n")
	base := realize.Taste{Tradition: "bach", Tempo: 72}
	r := realize.Read(p, base)
	plain, taken := r.TakeAlong(base.Choose(r.Ornaments[0].Note, "plain"), "o1")
	assert.Equal(t, []string{"o2", "o3"}, taken)
	q := realize.Read(p, plain)
	for i, want := range []string{"plain", "plain", "plain", "short.six"} {
		assert.Equal(t, want, q.Ornaments[i].Choices[q.Ornaments[i].Chosen].Key)
	}
	own, err := r.Edit("o1", 0, realize.Edit{Alternations: -1})
	require.NoError(t, err)
	own.Why, own.Edition = "page 12", true
	mine, taken := r.TakeAlong(base.WithOwn(r.Ornaments[0].Note, own), "o1")
	assert.Equal(t, []string{"o2", "o3"}, taken)
	q = realize.Read(p, mine)
	assert.Equal(t, "D5:1/4 C5:1/4 D5:1/4 C5:1/4", shown(q.Ornaments[1].Choices[0]))
	assert.Equal(t, "G5:1/4 F5:1/4 G5:1/4 F5:1/4", shown(q.Ornaments[2].Choices[0]))
	assert.Equal(t, "as in your edition", q.Ornaments[2].Choices[0].Name)
	// Undecided, nothing is taken along.
	_, taken = r.TakeAlong(base, "o1")
	assert.Empty(t, taken)
}

// Taste survives being written and read.
func TestTasteComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		note := rapid.SampledFrom([]score.ID{"n1", "n 2", "ü\n\"", "P1-3"})
		key := rapid.SampledFrom([]string{"plain", "trill.upper.suffix", "own", ""})
		var x realize.Taste
		steps := rapid.IntRange(0, 12).Draw(t, "steps")
		for range steps {
			id := note.Draw(t, "note")
			switch rapid.IntRange(0, 6).Draw(t, "what") {
			case 0:
				x = x.Choose(id, key.Draw(t, "key"))
			case 1:
				x = x.ChooseInPass(id, rapid.IntRange(1, 3).Draw(t, "pass"), key.Draw(t, "key"))
			case 2:
				x = x.WithOwn(id, realize.Own{Why: rapid.StringMatching(`[a-z "]{0,9}[a-z]`).Draw(t, "why"), Edition: rapid.Bool().Draw(t, "edition"),
					Notes: []realize.Note{{Pitch: music.MustPitch("Eb5"), Onset: music.F(-1, 8), Dur: music.F(1, 3), Degree: 1, Strength: 1, Measured: true}}})
				own := x.Own[id]
				again, err := realize.ParseOwn(own.Text())
				if err != nil {
					t.Fatal(err)
				}
				x = x.WithOwn(id, again)
			case 3:
				x = x.WithFingers(id, key.Draw(t, "key"), []string{"3", "2"})
			case 4:
				x = x.Always([]string{"trill-mark", "grace"}, key.Draw(t, "key"))
			case 5:
				x = x.Forget(id)
			case 6:
				x.Tradition, x.Prefer, x.Tempo, x.Rate = "berlin", "performers", 66.5, 8
				x.Reach = 12
			}
		}
		got, err := realize.ParseTaste(x.Text())
		if err != nil {
			t.Fatalf("%v\n%s", err, x.Text())
		}
		assert.Equal(t, x, got)
	})
}

func TestTasteRefusals(t *testing.T) {
	for _, text := range []string{"", "chosen \"a\" \"b\"", "decisions \"99\"", "decisions \"1\"\nchosen \"a\"", "decisions \"1\"\nchosen a b",
		"decisions \"1\"\ntempo \"-3\"", "decisions \"1\"\nrate \"NaN\"",
		"decisions \"1\"\ntempo \"1e-300\"", "decisions \"1\"\ntempo \"0.99\"", "decisions \"1\"\ntempo \"2001\"", "decisions \"1\"\ntempo \"Inf\"",
		"decisions \"1\"\nrate \"1.9\"", "decisions \"1\"\nrate \"16.1\"", "decisions \"1\"\nreach \"4\"", "decisions \"1\"\nreach \"25\"", "decisions \"1\"\npass \"a\" \"0\" \"plain\"",
		"decisions \"1\"\nown \"a\" \"own\\nC5 0 -1 0\"", "decisions \"1\"\nprefer \"fashion\""} {
		_, err := realize.ParseTaste(text)
		assert.ErrorIs(t, err, realize.ErrTaste, "%q", text)
	}
	_, err := realize.ParseTaste("decisions \"1\"\ncolour \"blue\"\n")
	assert.NoError(t, err, "a word of a newer program")
}

func FuzzParseTaste(f *testing.F) {
	f.Add(realize.Taste{Tempo: 60}.Choose("n1", "plain").ChooseInPass("n1", 2, "own").Text())
	f.Fuzz(func(t *testing.T, text string) {
		if x, err := realize.ParseTaste(text); err == nil {
			again, err := realize.ParseTaste(x.Text())
			require.NoError(t, err)
			require.Equal(t, x.Text(), again.Text())
		}
	})
}

// Fingers of the user's own stand first for their choice.
func TestOwnFingers(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\nMc2 z2 |]\n")
	note := realize.Read(p, realize.Taste{}).Ornaments[0].Note
	taste := realize.Taste{}.WithFingers(note, "mordent.single", []string{"3", "1", "3"})
	for _, c := range realize.Read(p, taste).Ornaments[0].Choices {
		if c.Key == "mordent.single" {
			assert.Equal(t, "3 1 3", c.Fingers())
			assert.Greater(t, len(c.Fingerings), 1)
		}
	}
	// Another number of notes: they do not fit and are left alone.
	taste = realize.Taste{}.WithFingers(note, "mordent.single", []string{"3"})
	for _, c := range realize.Read(p, taste).Ornaments[0].Choices {
		assert.Len(t, c.Fingering, len(c.Notes))
	}
}
