package sketch_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sketch"
)

func pitch(name string) *music.Pitch {
	p := music.MustPitch(name)
	return &p
}

// What a teacher reads off the page becomes two ordinary bars.
func TestPassage(t *testing.T) {
	for _, tc := range []struct {
		name  string
		place sketch.Place
		want  string // the lines of Format that matter
	}{
		{
			"a cadential trill over quarters",
			sketch.Place{
				Key: music.Key{Fifths: 1, Mode: music.Major}, Metre: music.Metre{Beats: 3, Unit: 4}, Tempo: 92, Year: 1725,
				Note: music.MustPitch("A4"), Value: score.Value{Type: score.Half},
				Before: pitch("B4"), SlurBefore: true, After: pitch("G4"),
				Sign: score.TrillMark, Beneath: sketch.Quarters, Bass: pitch("D3"),
			},
			`passage "" of 1725 staves 2
clef s1 at 0: G2
clef s2 at 0: F4
tempo at 0: 92 (quarter = 92)
measure 1 at 0 for 3, key 1 major, metre 3/4
1 s1 v1 at 0 for 2: rest half
1 s2 v2 at 0 for 1: D3 quarter
1 s2 v2 at 1 for 1: D3 quarter
1 s1 v1 at 2 for 1: B4 quarter
1 s2 v2 at 2 for 1: D3 quarter
measure 2 at 3 for 3, key 1 major, metre 3/4, bar line light-heavy
2 s1 v1 at 3 for 2: A4 half, trill-mark
2 s2 v2 at 3 for 1: D3 quarter
2 s2 v2 at 4 for 1: D3 quarter
2 s1 v1 at 5 for 1: G4 quarter
2 s2 v2 at 5 for 1: D3 quarter
slur v1 2 B4 to v1 3 A4
`,
		},
		{
			"a turn after a dotted quarter over eighths",
			sketch.Place{
				Metre: music.Metre{Beats: 2, Unit: 4}, Year: 1785,
				Note: music.MustPitch("D5"), Value: score.Value{Type: score.Quarter, Dots: 1}, After: pitch("E5"), SlurAfter: true,
				Sign: score.DelayedTurn, Accidental: "sharp", Below: true, Beneath: sketch.Eighths,
			},
			`passage "" of 1785 staves 2
clef s1 at 0: G2
clef s2 at 0: F4
measure 1 at 0 for 2, key 0, metre 2/4
1 s1 v1 at 0 for 2: rest whole bar
1 s2 v2 at 0 for 1/2: G3 8th, beam [
1 s2 v2 at 1/2 for 1/2: G4 8th, beam ]
1 s2 v2 at 1 for 1/2: G3 8th, beam [
1 s2 v2 at 3/2 for 1/2: G4 8th, beam ]
measure 2 at 2 for 2, key 0, metre 2/4, bar line light-heavy
2 s1 v1 at 2 for 3/2: D5 quarter., delayed-turn sharp below
2 s2 v2 at 2 for 1/2: G3 8th, beam [
2 s2 v2 at 5/2 for 1/2: G4 8th, beam ]
2 s2 v2 at 3 for 1/2: G3 8th, beam [
2 s1 v1 at 7/2 for 1/2: E5 8th
2 s2 v2 at 7/2 for 1/2: G4 8th, beam ]
slur v1 2 D5 to v1 7/2 E5
`,
		},
		{
			"an appoggiatura to a note that fills its bar, after an upbeat",
			sketch.Place{
				Key: music.Key{Fifths: -1, Mode: music.Minor}, Metre: music.Metre{Beats: 3, Unit: 4},
				Note: music.MustPitch("D5"), Value: score.Value{Type: score.Half, Dots: 1},
				Before: pitch("C#5"), After: pitch("A4"),
				Small: []music.Pitch{music.MustPitch("E5")}, SmallValue: score.Quarter,
			},
			`passage "" staves 2
clef s1 at 0: G2
clef s2 at 0: F4
measure 0 at 0 for 1, key -1 minor, metre 3/4, not counted
0 s1 v1 at 0 for 1: C#5(sharp) quarter
0 s2 v2 at 0 for 1: rest quarter
measure 1 at 1 for 3, key -1 minor, metre 3/4
1 s1 v1 at 1 small: E5 quarter
1 s1 v1 at 1 for 3: D5 half.
1 s2 v2 at 1 for 3: D3 half.
measure 2 at 4 for 3, key -1 minor, metre 3/4, bar line light-heavy
2 s1 v1 at 4 for 1: A4 quarter
2 s2 v2 at 4 for 3: D3 half.
2 s1 v1 at 5 for 2: rest half
`,
		},
		{
			"a mordent over triplets, tied on",
			sketch.Place{
				Metre: music.Metre{Beats: 2, Unit: 4}, Note: music.MustPitch("F#4"),
				Value: score.Value{Type: score.Quarter}, Tied: score.Value{Type: score.Eighth},
				Sign: score.Mordent, Beneath: sketch.Triplets, Bass: pitch("D3"),
			},
			`passage "" staves 2
clef s1 at 0: G2
clef s2 at 0: F4
measure 1 at 0 for 2, key 0, metre 2/4
1 s1 v1 at 0 for 2: rest whole bar
1 s2 v2 at 0 for 1/3: D3 8th 3:2, beam [
1 s2 v2 at 1/3 for 1/3: D4 8th 3:2, beam -
1 s2 v2 at 2/3 for 1/3: D4 8th 3:2, beam ]
1 s2 v2 at 1 for 1/3: D3 8th 3:2, beam [
1 s2 v2 at 4/3 for 1/3: D4 8th 3:2, beam -
1 s2 v2 at 5/3 for 1/3: D4 8th 3:2, beam ]
measure 2 at 2 for 2, key 0, metre 2/4, bar line light-heavy
2 s1 v1 at 2 for 1: F#4~(sharp) quarter, mordent
2 s2 v2 at 2 for 1/3: D3 8th 3:2, beam [
2 s2 v2 at 7/3 for 1/3: D4 8th 3:2, beam -
2 s2 v2 at 8/3 for 1/3: D4 8th 3:2, beam ]
2 s1 v1 at 3 for 1/2: ~F#4 8th
2 s2 v2 at 3 for 1/3: D3 8th 3:2, beam [
2 s2 v2 at 10/3 for 1/3: D4 8th 3:2, beam -
2 s1 v1 at 7/2 for 1/2: rest 8th
2 s2 v2 at 11/3 for 1/3: D4 8th 3:2, beam ]
tuplet 3:2 v2 0 D3 to v2 2/3 D4
tuplet 3:2 v2 1 D3 to v2 5/3 D4
tuplet 3:2 v2 2 D3 to v2 8/3 D4
tuplet 3:2 v2 3 D3 to v2 11/3 D4
`,
		},
	} {
		t.Run(tc.name, func(t *testing.T) {
			p, id, err := tc.place.Passage()
			require.NoError(t, err)
			r, ok := p.Find(id)
			require.True(t, ok)
			assert.Equal(t, tc.place.Note, p.At(r).Pitch)
			assert.Equal(t, tc.want, p.Format())
		})
	}
}

// The bass that the key chooses holds the note in its triad (common practice,
// no source), and lies below it.
func TestBassChosen(t *testing.T) {
	for note, want := range map[string]string{
		"C5": "C3", "E5": "C3", "G5": "C3", "D5": "G3", "B4": "G3", "F5": "F3", "A4": "F3", "C3": "C2",
	} {
		p, _, err := sketch.Place{Note: music.MustPitch(note), Value: score.Value{Type: score.Quarter}, Sign: score.Mordent}.Passage()
		require.NoError(t, err)
		for i := range p.Chords {
			if p.Chords[i].Staff == 2 {
				assert.Equal(t, want, p.Chords[i].Notes[0].Pitch.String(), note)
				break
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	quarter := score.Value{Type: score.Quarter}
	a4 := music.MustPitch("A4")
	for _, tc := range []struct {
		name  string
		place sketch.Place
		want  string
	}{
		{"no value", sketch.Place{Note: a4}, "needs a value"},
		{"too long", sketch.Place{Note: a4, Value: score.Value{Type: score.Long}}, "more than its two bars"},
		{"no room for the note after", sketch.Place{Note: a4, Value: score.Value{Type: score.Breve}, After: pitch("G4")}, "more than its two bars"},
		{"slur from nowhere", sketch.Place{Note: a4, Value: quarter, SlurBefore: true}, "slur"},
		{"accidental without a sign", sketch.Place{Note: a4, Value: quarter, Accidental: "sharp"}, "needs a sign"},
		{"unknown accidental", sketch.Place{Note: a4, Value: quarter, Sign: score.Turn, Accidental: "blue"}, "blue"},
		{"note off the keyboard", sketch.Place{Note: music.Pitch{Octave: 12}, Value: quarter}, "keyboard"},
		{"note too low", sketch.Place{Note: music.MustPitch("C0"), Value: quarter}, "too low"},
		{"key", sketch.Place{Note: a4, Value: quarter, Key: music.Key{Fifths: 9}}, "seven"},
		{"metre", sketch.Place{Note: a4, Value: quarter, Metre: music.Metre{Beats: 3, Unit: 5}}, "time signature"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, _, err := tc.place.Passage()
			require.ErrorContains(t, err, tc.want)
		})
	}
}

// Whatever the form holds, the passage is whole: two full bars and perhaps an
// upbeat, the note with its value, its neighbours touching it, something
// beneath it throughout, and one ornament for the realization to read.
func TestEveryFormGivesAPassage(t *testing.T) {
	metres := []music.Metre{{}, {Beats: 4, Unit: 4}, {Beats: 2, Unit: 2}, {Beats: 3, Unit: 4}, {Beats: 2, Unit: 4},
		{Beats: 3, Unit: 8}, {Beats: 6, Unit: 8}, {Beats: 9, Unit: 8}, {Beats: 12, Unit: 8}, {Beats: 5, Unit: 8}}
	kinds := []score.SignKind{score.TrillMark, score.Mordent, score.InvertedMordent, score.Turn, score.DelayedTurn}
	made := 0
	rapid.Check(t, func(t *rapid.T) {
		key := music.Key{Fifths: rapid.Int8Range(-7, 7).Draw(t, "fifths"), Mode: music.Mode(rapid.IntRange(0, 2).Draw(t, "mode"))}
		near := func(label string) *music.Pitch {
			p := music.FromDiatonic(rapid.IntRange(28, 42).Draw(t, label), 0)
			p = p.WithAlter(key.Alter(p.Step))
			return &p
		}
		place := sketch.Place{
			Key: key, Metre: rapid.SampledFrom(metres).Draw(t, "metre"),
			Note:    *near("note"),
			Value:   score.Value{Type: score.ValueType(rapid.IntRange(int(score.Whole), int(score.N16th)).Draw(t, "value")), Dots: rapid.IntRange(0, 1).Draw(t, "dots")},
			Sign:    rapid.SampledFrom(kinds).Draw(t, "kind"),
			Beneath: sketch.Rhythm(rapid.IntRange(0, 5).Draw(t, "rhythm")),
		}
		if rapid.Bool().Draw(t, "before") {
			place.Before, place.SlurBefore = near("the note before"), rapid.Bool().Draw(t, "slur from it")
		}
		if rapid.Bool().Draw(t, "after") {
			place.After, place.SlurAfter = near("the note after"), rapid.Bool().Draw(t, "slur to it")
		}
		if rapid.Bool().Draw(t, "small") {
			place.Small = []music.Pitch{*near("small note")}
		}
		p, id, err := place.Passage()
		if err != nil {
			if !strings.Contains(err.Error(), "two bars") {
				t.Fatal(err)
			}
			return
		}
		made++
		full := 0
		for _, m := range p.Measures {
			if !m.Implicit {
				full++
				if m.Length != m.Metre.Bar() {
					t.Fatalf("a bar of %s lasts %s", m.Metre, m.Length)
				}
			}
		}
		if full != 2 {
			t.Fatalf("%d full bars", full)
		}
		r, ok := p.Find(id)
		if !ok || p.At(r).Pitch != place.Note {
			t.Fatal("the note is not there")
		}
		tied := p.TiedOn(r)
		var length music.Frac
		for _, x := range tied {
			length = length.Add(p.Chords[x.Chord].Dur)
		}
		if length != place.Value.Quarters() {
			t.Fatalf("the note lasts %s, not %s", length, place.Value)
		}
		onset, end := p.Chords[r.Chord].Onset, p.Chords[tied[len(tied)-1].Chord].End()
		var before, after, beneath bool
		for i := range p.Chords {
			c := &p.Chords[i]
			switch {
			case c.Grace != nil || c.IsRest():
			case c.Staff == 2:
				beneath = beneath || c.Onset == onset
			case c.End() == onset:
				before = place.Before != nil && c.Notes[0].Pitch == *place.Before
			case c.Onset == end:
				after = place.After != nil && c.Notes[0].Pitch == *place.After
			}
		}
		if before != (place.Before != nil) || after != (place.After != nil) || !beneath {
			t.Fatalf("before %v, after %v, beneath %v in\n%s", before, after, beneath, p.Format())
		}
		reading := realize.Read(p, realize.Taste{})
		if len(reading.Ornaments) != 1 || len(reading.Ornaments[0].Choices) == 0 {
			t.Fatalf("%d ornaments are read in\n%s", len(reading.Ornaments), p.Format())
		}
	})
	require.NotZero(t, made)
}
