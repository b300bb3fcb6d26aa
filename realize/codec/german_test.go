package codec_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/cmd/agremens/po"
	"agremens/realize/codec"
)

// What is wrong with a file, where, and what to do is said in German.
func TestErrorsInGerman(t *testing.T) {
	german, err := po.Catalogue("de")
	require.NoError(t, err)
	for _, c := range []struct{ name, data, says string }{
		{"nothing", "", " Diese Datei ist leer. Wähle eine andere Datei oder lade sie noch einmal herunter."},
		{"a PDF", "%PDF-1.7", " Das ist ein PDF. Ein PDF enthält Bilder von Noten: Suche dasselbe Stück als MusicXML."},
		{"cut off", "<score-partwise><part-list/>", "Zeile 1: "},
		{"typed", "X:1\nK:C\n\"^# C D", " Zeile 3, Spalte 1: einer Anmerkung fehlt das schließende Anführungszeichen. "},
		{"a number", "X:1\nM:x\nK:C\n", "„x“ ist keine Taktart"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := codec.Open([]byte(c.data), "", nil)
			require.Error(t, err)
			said := codec.WordsIn(german, err)
			assert.Contains(t, said, c.says)
			assert.Empty(t, po.English(said), said)
		})
	}
	s, err := codec.OpenIn(german, []byte("X:1\nM:2/4\nL:1/4\nK:C\nw:la\nC D E | C D |]\n"), "", nil)
	require.NoError(t, err)
	require.NotEmpty(t, s.Warnings)
	for _, w := range s.Warnings {
		assert.Regexp(t, `^Zeile \d+, Spalte \d+: `, w)
		assert.Empty(t, po.English(w), w)
	}
}
