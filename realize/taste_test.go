package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
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
		{"from the main note", realize.Edit{First: -1}, "D5:2/7 E5:2/7 D5:2/7 E5:2/7 D5:2/7 E5:2/7 D5:2/7"},
		{"from below", realize.Edit{First: -2, Alternations: -1}, "C5:1/3 D5:1/3 E5:1/3 D5:1/3 E5:1/3 D5:1/3"},
		{"from above, as it is", realize.Edit{First: 1}, shown(trill)},
		{"one alternation more", realize.Edit{Alternations: 1}, "E5:1/5 D5:1/5 E5:1/5 D5:1/5 E5:1/5 D5:1/5 E5:1/5 D5:1/5 E5:1/5 D5:1/5"},
		{"the last note held", realize.Edit{Alternations: -2, Rhythm: realize.HoldLast}, "E5:1/3 D5:1/3 E5:1/3 D5:1"},
		{"the first note leaned on", realize.Edit{Alternations: -2, Rhythm: realize.LeanFirst}, "E5:1 D5:1/3 E5:1/3 D5:1/3"},
		{"a rhythm of one's own", realize.Edit{Alternations: -2, Shares: []int{1, 1, 2, 4}}, "E5:1/4 D5:1/4 E5:1/2 D5:1"},
		{"after the beat", realize.Edit{Alternations: -2, Shift: music.F(1, 4)}, "D5:1/4 E5:1/2 D5:1/2 E5:1/2 D5:1/4"},
		{"before the beat", realize.Edit{Alternations: -2, Shift: music.F(-1, 2)}, "E5:1/2 D5:1/2 E5:1/2 D5:1"},
		{"a flat above", realize.Edit{Upper: -1, Alternations: -3}, "Eb5:1 D5:1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := trill.Edited(o.Principal, c.edit)
			require.NoError(t, err)
			assert.Equal(t, c.want, shown(got))
		})
	}
	for name, e := range map[string]realize.Edit{
		"no notes left":        {Alternations: -9},
		"too many accidentals": {Upper: 3},
		"too late":             {Shift: music.Int(2)},
		"too far":              {Shift: music.F(1, 1<<20)},
		"shares for others":    {Shares: []int{1, 2}},
		"an empty share":       {Shares: []int{1, 1, 1, 1, 1, 1, 1, 0}},
	} {
		_, err := trill.Edited(o.Principal, e)
		assert.ErrorIs(t, err, realize.ErrEdit, name)
	}
}

// One alternation more or less leaves the tie with the first note.
func TestEditedJoinedTrill(t *testing.T) {
	p := passage(t, "X:1\nC:J. S. Bach\nM:4/4\nL:1/4\nQ:1/4=72\nK:C\nf (e Td) c |]\n")
	o := realize.Read(p, realize.Taste{Tradition: "bach"}).Ornaments[0]
	joined := o.Choices[o.Chosen]
	require.True(t, joined.Notes[0].Tied)
	for _, more := range []int{1, 2, -1} {
		got, err := joined.Edited(o.Principal, realize.Edit{Alternations: more})
		require.NoError(t, err)
		for i, n := range got.Notes {
			assert.Equal(t, i == 0, n.Tied, "%+d alternations, note %d", more, i)
		}
	}
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
	assert.LessOrEqual(t, len(r.Ornaments[0].Choices), realize.MostChoices)
	assert.Equal(t, shown(mine), shown(first))
	assert.Contains(t, first.Reason, "page 3")
}

// A realization of the user's own is checked like the others and stays as it
// is under every tradition, order and tempo.
func TestOwnIsCheckedAndStays(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\n[V:R] g2 Td2 |]\n[V:L] C, D, E,, z |]\n")
	base := realize.Read(p, realize.Taste{Tempo: 72})
	own, err := base.Edit("o1", 0, realize.Edit{Alternations: 6, Shift: music.F(-1, 4), Upper: 1})
	require.NoError(t, err)
	own.Why = "as my teacher played it"
	note := base.Ornaments[0].Note
	for _, tr := range realize.Traditions() {
		for _, prefer := range []realize.Preference{realize.Sources, realize.Performers} {
			r := realize.Read(p, realize.Taste{Tradition: tr.Key, Prefer: prefer, Tempo: 120}.WithOwn(note, own))
			first := r.Ornaments[0].Choices[0]
			require.Equal(t, realize.OwnKey, first.Key)
			assert.Equal(t, own.Notes, first.Notes)
			assert.Zero(t, r.Ornaments[0].Chosen)
			assert.Len(t, first.Fingering, len(first.Notes))
			assert.Contains(t, first.Reason, "as my teacher")
			require.Len(t, first.Borrows, 1)
			assert.Equal(t, music.F(1, 4), first.Borrows[0].Amount)
			assert.Contains(t, first.Warnings[0], "notes per second", "as quick as this the rate is spoken of")
			for _, n := range realize.Perform(r, realize.PerformOptions{}).Notes {
				assert.Positive(t, n.Dur.Sign())
			}
		}
	}
	// Another choice can be taken beside it and it stays in the list.
	r := realize.Read(p, realize.Taste{}.WithOwn(note, own).Choose(note, "plain"))
	o := r.Ornaments[0]
	assert.Equal(t, realize.OwnKey, o.Choices[0].Key)
	assert.Equal(t, "plain", o.Choices[o.Chosen].Key)
	// What cannot be played is left out and said.
	r = realize.Read(p, realize.Taste{Own: map[score.ID]realize.Own{note: {Notes: []realize.Note{{Dur: music.Int(-1)}}}}})
	assert.NotEqual(t, realize.OwnKey, r.Ornaments[0].Choices[0].Key)
	assert.Contains(t, r.Warnings[0], "cannot be played")
	// What ends too soon is said.
	short := realize.Own{Notes: []realize.Note{{Pitch: music.MustPitch("D5"), Dur: music.Int(1), Strength: 1}}}
	r = realize.Read(p, realize.Taste{}.WithOwn(note, short))
	assert.Contains(t, r.Ornaments[0].Choices[0].Warnings, "ends before its note does; silence until then, in quarter notes: 1")
}

func TestSmallNotesOfOnesOwn(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\ng2 Td2 | !arpeggio![ceg]2 z2 |]\n")
	r := realize.Read(p, realize.Taste{})
	pitches := []music.Pitch{music.MustPitch("C5"), music.MustPitch("D5"), music.MustPitch("E5")}
	for where, want := range map[realize.SmallPlace]string{
		realize.OnBeat:  "C5@0:1/4 D5@1/4:1/4 E5@1/2:1/4 D5@3/4:5/4",
		realize.Before:  "C5@-3/4:1/4 D5@-1/2:1/4 E5@-1/4:1/4 D5@0:2",
		realize.Closing: "D5@0:5/4 C5@5/4:1/4 D5@3/2:1/4 E5@7/4:1/4",
	} {
		own, err := r.SmallNotes("o1", pitches, music.F(1, 4), where)
		require.NoError(t, err)
		assert.Equal(t, want, placed(realize.Choice{Notes: own.Notes}))
	}
	// On a chord the others of it go on sounding.
	own, err := r.SmallNotes("o2", pitches[:1], music.F(1, 4), realize.OnBeat)
	require.NoError(t, err)
	assert.Equal(t, "C5@0:1/4 C5@0:2 E5@0:2 G5@1/4:7/4", placed(realize.Choice{Notes: own.Notes}))
	for _, bad := range []struct {
		id      string
		pitches []music.Pitch
		each    music.Frac
	}{{"o9", pitches, music.F(1, 4)}, {"o1", nil, music.F(1, 4)}, {"o1", pitches, music.Int(0)}, {"o1", pitches, music.Int(1)},
		{"o1", []music.Pitch{{Octave: 100}}, music.F(1, 4)}} {
		_, err := r.SmallNotes(bad.id, bad.pitches, bad.each, realize.OnBeat)
		assert.ErrorIs(t, err, realize.ErrEdit)
	}
}

// Any edit of any choice leaves something that can be played, written down
// and taken, or says that it cannot.
func TestEveryEditCanBePlayed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPassage(t)
		taste := drawTaste(t)
		r := realize.Read(p, taste)
		o := r.Ornaments[rapid.IntRange(0, len(r.Ornaments)-1).Draw(t, "ornament")]
		small := rapid.IntRange(-2, 2)
		e := realize.Edit{First: small.Draw(t, "first"), Alternations: small.Draw(t, "alternations"), Ending: rapid.IntRange(-1, 1).Draw(t, "ending"),
			Upper: rapid.IntRange(-1, 1).Draw(t, "upper"), Rhythm: realize.Rhythm(rapid.IntRange(0, 3).Draw(t, "rhythm")),
			Shift: music.F(int64(small.Draw(t, "shift")), 8)}
		own, err := r.Edit(o.ID, rapid.IntRange(0, len(o.Choices)-1).Draw(t, "choice"), e)
		if err != nil {
			assert.ErrorIs(t, err, realize.ErrEdit)
			return
		}
		q := realize.Read(p, taste.WithOwn(o.Note, own))
		for _, x := range q.Ornaments {
			if x.Note != o.Note {
				continue
			}
			if x.Choices[0].Key != realize.OwnKey {
				t.Fatalf("%+v was left out: %v", own, q.Warnings)
			}
		}
		again, err := realize.ParseOwn(own.Text())
		if err != nil {
			t.Fatal(err)
		}
		assert.Equal(t, own.Notes, again.Notes)
		for _, n := range realize.Perform(q, realize.PerformOptions{}).Notes {
			if n.Dur.Sign() <= 0 {
				t.Fatalf("a note of %v", n.Dur)
			}
		}
	})
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
		{"Frédéric Chopin (1810–1849)", 0, "chopin", false},
		{"", 1840, "romantic", false}, // a year names no single man
		{"Jean-Henri d'Anglebert", 0, "french", false},
		{"J.S. Bach.", 0, "bach", false},
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

// Many files print the composer's name over the first bar instead of naming
// him in the field for it.
func TestTheHeadingNamesTheComposer(t *testing.T) {
	p := passage(t, "X:1\nM:4/4\nL:1/4\nQ:1/4=80\nK:C\nTd2 c2 | c4 |]\n")
	p.Marks = []score.Mark{{Kind: score.Words, Text: "Joseph Haydn (1789)"}}
	assert.Equal(t, "vienna", realize.Read(p, realize.Taste{}).Tradition)
	assert.Empty(t, realize.Read(p, realize.Taste{}).Questions)
	p.Marks[0].Text = "allegro for Bachmann"
	assert.NotEmpty(t, realize.Read(p, realize.Taste{}).Questions)
}
