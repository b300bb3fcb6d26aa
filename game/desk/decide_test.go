package desk_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
)

func deskOn(t *testing.T, text string) *desk.Desk {
	p, _, err := abc.Decode(text)
	require.NoError(t, err)
	return desk.New("x", p, realize.Taste{})
}

func played(d *desk.Desk) string {
	o, _ := d.Ornament()
	return desk.NotesInWords(&o.Choices[o.Chosen])
}

const twoTrills = "X:1\nC:J. S. Bach\nM:4/4\nL:1/4\nQ:1/4=72\nK:C\n|: e Td2 c | e Td2 c :|\n"

// Whatever is decided can be undone, and survives being saved.
func TestDecisionsAreKeptAndUndone(t *testing.T) {
	d := deskOn(t, twoTrills)
	first := played(d)
	steps := []func(){
		func() { d.Choose(1) },
		func() { require.NoError(t, d.Edit(realize.Edit{Alternations: -1})) },
		func() { require.NoError(t, d.SayWhy("as my teacher plays it", true)) },
		func() { require.NoError(t, d.SetOwnNotes("e d c d", music.F(1, 4), realize.OnBeat)) },
		func() { assert.Equal(t, []string{"2"}, d.TakeAlong()) },
		func() { d.ChooseInPass(2, 1) },
		func() { require.NoError(t, d.SetFingers("32 12")) },
		func() { d.Forget() },
	}
	var saved []string
	for i, step := range steps {
		saved = append(saved, d.Taste.Text())
		step()
		assert.NotEqual(t, saved[i], d.Taste.Text(), "step %d changes something", i)
		other := deskOn(t, twoTrills)
		other.Restore(d.Save())
		assert.Equal(t, d.Taste.Text(), other.Taste.Text(), "step %d is kept", i)
	}
	for i := len(steps) - 1; i >= 0; i-- {
		require.True(t, d.CanUndo())
		d.Undo()
		assert.Equal(t, saved[i], d.Taste.Text(), "step %d is undone", i)
	}
	assert.Equal(t, first, played(d))
}

func TestOwnWordsAndPlaces(t *testing.T) {
	d := deskOn(t, twoTrills)
	assert.Equal(t, 1, d.Alike())
	assert.Equal(t, 2, d.Repeated())
	require.NoError(t, d.SetOwnNotes("C# D e", music.F(1, 4), realize.OnBeat))
	assert.Equal(t, "C♯–D–E–D", played(d))
	require.NoError(t, d.SayWhy("  page 3,\n bar 1 ", true))
	why, edition, own := d.Why()
	assert.Equal(t, "page 3, bar 1", why)
	assert.True(t, edition && own)
	assert.Equal(t, "C♯–D–E–D", played(d), "a reason changes no note")
	d.Always()
	assert.NotEmpty(t, d.Taste.Standing)
}

func TestRefusedDecisions(t *testing.T) {
	d := deskOn(t, twoTrills)
	before := d.Taste.Text()
	assert.Error(t, d.SetOwnNotes("x y", music.F(1, 4), realize.OnBeat))
	assert.Error(t, d.SetOwnNotes("", music.F(1, 4), realize.OnBeat))
	assert.Error(t, d.SetFingers("9"))
	assert.Error(t, d.SetFingers("1"))
	assert.Error(t, d.Edit(realize.Edit{Alternations: -99}))
	assert.Equal(t, before, d.Taste.Text(), "what is refused changes nothing")
	plain := deskOn(t, "X:1\nM:4/4\nL:1/4\nK:C\nc d e f |]\n")
	assert.Error(t, plain.Edit(realize.Edit{}))
	assert.Error(t, plain.SayWhy("x", false))
	assert.Empty(t, plain.TakeAlong())
	assert.Equal(t, 1, plain.Repeated())
}

// A letter without an octave is the nearest one.
func TestParsePitches(t *testing.T) {
	near := music.MustPitch("D5")
	for text, want := range map[string]string{
		"E D C D": "E5 D5 C5 D5", "e,d,c#,d": "E5 D5 C#5 D5", "A B C": "A4 B4 C5", "eb–d": "Eb5 D5", "C4 D4": "C4 D4",
	} {
		got, err := desk.ParsePitches(text, near)
		require.NoError(t, err)
		words := ""
		for _, p := range got {
			words += " " + p.String()
		}
		assert.Equal(t, " "+want, words)
	}
}

func TestResultsSpeakToWhoeverTaps(t *testing.T) {
	d := deskOn(t, twoTrills)
	assert.Empty(t, d.Round(true).Voice)
	d.Voice = "child"
	assert.Equal(t, "child", d.Round(true).Voice)
}

// What is ticked stays as it was played, in whatever tradition.
func TestTickedSignsAreDecided(t *testing.T) {
	d := deskOn(t, twoTrills)
	for i := range d.Reading.Ornaments {
		assert.False(t, d.Decided(i))
	}
	played := d.Reading.Ornaments[0].Choices[d.Reading.Ornaments[0].Chosen].Key
	d.Tick(0)
	assert.True(t, d.Decided(0))
	assert.False(t, d.Decided(1))
	d.Select(1)
	d.Choose(1)
	assert.True(t, d.Decided(1), "what was chosen needs no tick")
	assert.Equal(t, played, d.Reading.Ornaments[0].Choices[d.Reading.Ornaments[0].Chosen].Key)
	d.Untick(0)
	assert.False(t, d.Decided(0))
	d.Undo()
	assert.True(t, d.Decided(0))

	d.Select(0)
	require.NoError(t, d.SetOwnNotes("e d c d", music.F(1, 4), realize.OnBeat))
	d.Untick(0)
	assert.True(t, d.Decided(0), "notes of one's own are not lost by a tick")
}
