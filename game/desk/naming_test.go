package desk_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/assets"
	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
)

func TestNamesReachEveryWord(t *testing.T) {
	p, _, err := abc.Decode("X:1\nT:Try\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:Eb\n[V:R]G !turn!B2 A|G4|]\n[V:L]E,4|E,4|]\n")
	require.NoError(t, err)
	d := desk.New("try", p, realize.Taste{})
	all := func() string {
		w, ok := d.Sign()
		require.True(t, ok)
		words := []string{w.Notes, w.Why, d.InWords(), d.NoteWords()}
		for _, c := range w.Choices {
			words = append(words, c.Detail)
		}
		return strings.Join(words, "\n")
	}
	english, kept := all(), d.Save()
	assert.Contains(t, english, "B♭")
	assert.Contains(t, english, "E♭ major")

	d.SetNaming(music.GermanNames)
	german := all()
	assert.Contains(t, german, "C–B–As–B", "the turn on B flat (common practice, no source)")
	assert.Contains(t, german, "Es major")
	assert.NotContains(t, german, "♭")
	assert.Equal(t, kept, d.Save(), "names are not kept with the decisions")
	assert.False(t, d.CanUndo(), "names are no decision")

	d.SetNaming(music.SolfegeNames)
	assert.Contains(t, all(), "do–si♭–la♭–si♭")
	d.Restore(kept)
	assert.Contains(t, all(), "do–si♭–la♭–si♭", "what is brought back is called the same")
	d.SetNaming(music.EnglishNames)
	assert.Equal(t, english, all())
}

// In every built-in passage, German words hold no accidental's sign.
func TestGermanWordsEverywhere(t *testing.T) {
	for _, e := range assets.Passages() {
		t.Run(e.ID, func(t *testing.T) {
			p, _, err := abc.Decode(e.ABC)
			require.NoError(t, err)
			d := desk.New(e.ID, p, realize.Taste{Naming: music.GermanNames})
			require.NotEmpty(t, d.Reading.Ornaments)
			for i := range d.Reading.Ornaments {
				for _, c := range d.Reading.Ornaments[i].Choices {
					text := c.Reason + desk.NotesInWords(&c) + c.Meets() + strings.Join(c.Warnings, " ")
					assert.NotContains(t, text, "♯")
					assert.NotContains(t, text, "♭")
				}
			}
		})
	}
}
