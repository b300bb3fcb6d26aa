package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize/music"
)

// Names: common practice, no published source.
func TestNames(t *testing.T) {
	for _, c := range []struct{ pitch, english, german, solfege string }{
		{"C4", "C", "C", "do"}, {"D4", "D", "D", "re"}, {"E4", "E", "E", "mi"}, {"F4", "F", "F", "fa"},
		{"G4", "G", "G", "sol"}, {"A4", "A", "A", "la"}, {"B4", "B", "H", "si"},
		{"C#4", "C♯", "Cis", "do♯"}, {"D#4", "D♯", "Dis", "re♯"}, {"E#4", "E♯", "Eis", "mi♯"}, {"F#4", "F♯", "Fis", "fa♯"},
		{"G#4", "G♯", "Gis", "sol♯"}, {"A#4", "A♯", "Ais", "la♯"}, {"B#4", "B♯", "His", "si♯"},
		{"Cb4", "C♭", "Ces", "do♭"}, {"Db4", "D♭", "Des", "re♭"}, {"Eb4", "E♭", "Es", "mi♭"}, {"Fb4", "F♭", "Fes", "fa♭"},
		{"Gb4", "G♭", "Ges", "sol♭"}, {"Ab4", "A♭", "As", "la♭"}, {"Bb4", "B♭", "B", "si♭"},
		{"F##4", "F×", "Fisis", "fa×"}, {"Bbb4", "B♭♭", "Heses", "si♭♭"}, {"Ebb4", "E♭♭", "Eses", "mi♭♭"}, {"Abb4", "A♭♭", "Ases", "la♭♭"},
	} {
		t.Run(c.pitch, func(t *testing.T) {
			p := music.MustPitch(c.pitch)
			assert.Equal(t, c.english, music.EnglishNames.Name(p))
			assert.Equal(t, c.german, music.GermanNames.Name(p))
			assert.Equal(t, c.solfege, music.SolfegeNames.Name(p))
		})
	}
}

func TestNamingKeys(t *testing.T) {
	for _, n := range music.Namings() {
		assert.Equal(t, n, music.NamingOf(n.Key()))
	}
	assert.Equal(t, music.EnglishNames, music.NamingOf("martian"))
}

// No two spellings of one octave share a name.
func TestNamesAreApart(t *testing.T) {
	for _, n := range music.Namings() {
		seen := map[string]music.Pitch{}
		for s := music.C; s <= music.B; s++ {
			for alter := int8(-2); alter <= 2; alter++ {
				p := music.Pitch{Step: s, Alter: alter, Octave: 4}
				name := n.Name(p)
				assert.NotContains(t, seen, name, "%s", p)
				seen[name] = p
			}
		}
	}
}
