package paper_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/game/paper"
	"agremens/realize"
	"agremens/realize/music"
)

func TestTheFirstFormCanBeHeard(t *testing.T) {
	p, id, err := paper.New().Passage()
	require.NoError(t, err)
	require.NoError(t, p.Check())
	assert.Equal(t, "Trill on B", p.Title)
	r := realize.Read(p, realize.Taste{})
	require.Len(t, r.Ornaments, 1)
	assert.Equal(t, id, r.Ornaments[0].Note)
	assert.NotEmpty(t, realize.Perform(r, realize.PerformOptions{}).Notes)
}

func TestWhatTheFieldsSayStandsInThePassage(t *testing.T) {
	f := paper.New()
	for name, value := range map[string]string{
		"key": "-3 minor", "metre": "6/8", "tempo": "50", "year": "1745", "note": "D5", "alter": "-1", "value": "quarter", "dot": "on",
		"before": "-1", "before-alter": "0", "slur-before": "on", "after": "0", "sign": "turn", "accidental": "sharp", "side": "below",
		"name": "Bar 40", "beneath": "eighths", "bass": "G2",
	} {
		f.Set(name, value)
	}
	p, id, err := f.Passage()
	require.NoError(t, err)
	assert.Equal(t, "Bar 40", p.Title)
	assert.Equal(t, 1745, p.Year)
	assert.Equal(t, music.Key{Fifths: -3, Mode: music.Minor}, p.Measures[0].Key)
	assert.Equal(t, 75.0, p.Tempos[0].QuartersPerMinute, "50 dotted quarters")
	r, ok := p.Find(id)
	require.True(t, ok)
	assert.Equal(t, music.MustPitch("Db5"), p.At(r).Pitch)
	c := p.Chords[r.Chord]
	assert.Equal(t, music.F(3, 2), c.Dur)
	require.Len(t, c.Signs, 1)
	assert.True(t, c.Signs[0].Accidentals[0].Below)
	var before, beneath bool
	for i := range p.Chords {
		x := &p.Chords[i]
		if x.IsRest() {
			continue
		}
		before = before || x.Staff == 1 && x.End() == c.Onset && x.Notes[0].Pitch == music.MustPitch("C5")
		beneath = beneath || x.Staff == 2 && x.Dur == music.F(1, 2) && x.Notes[0].Pitch == music.MustPitch("G2")
	}
	assert.True(t, before, "the note before, a natural")
	assert.True(t, beneath, "eighths on the bass note")
	assert.Len(t, p.Slurs, 1)
}

func TestMistakesAreSaidAndNothingIsTakenThatIsNotOffered(t *testing.T) {
	f := paper.New()
	f.Set("tempo", "fast")
	_, _, err := f.Passage()
	assert.ErrorIs(t, err, paper.ErrTempo)
	f.Set("tempo", "")
	f.Set("value", "whole")
	f.Set("metre", "3/8")
	_, _, err = f.Passage()
	assert.ErrorContains(t, err, "shorter value")
	f.Set("sign", "poem")
	assert.Equal(t, "trill", f.Get("sign"))
	for range 100 {
		f.Move(1)
	}
	assert.Equal(t, "G6", f.Get("note"))
}

// Whatever is filled in makes a passage or says why not, and a form that is
// kept comes back as it was.
func TestEveryFormIsAPassageOrAWord(t *testing.T) {
	made, all := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		f := paper.New()
		for _, field := range paper.Fields(music.EnglishNames, nil) {
			if len(field.Options) > 0 {
				f.Set(field.Name, rapid.SampledFrom(field.Options).Draw(t, field.Name).Key)
			}
		}
		if again := paper.Load(f.Save()); again.Save() != f.Save() {
			t.Fatal("it comes back as another form")
		}
		all++
		p, _, err := f.Passage()
		if err != nil {
			if err.Error() == "" {
				t.Fatal("no word about it")
			}
			return
		}
		made++
		if err := p.Check(); err != nil {
			t.Fatal(err)
		}
		if n := len(realize.Read(p, realize.Taste{}).Ornaments); n != 1 {
			t.Fatalf("%d ornaments", n)
		}
	})
	require.NotZero(t, made)
	assert.Greater(t, made*2, all, "most forms make a passage")
}

func TestALineThatIsNoFormIsTheFirstForm(t *testing.T) {
	assert.Equal(t, paper.New().Save(), paper.Load("%zz").Save())
	assert.Equal(t, paper.New().Save(), paper.Load("sign=poem&x=1").Save())
}
