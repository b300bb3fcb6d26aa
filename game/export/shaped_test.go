package export_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/export"
	"agremens/realize"
	"agremens/realize/codec/abc"
)

// MIDI and WAV follow what is heard: shaped they differ from even ones; the
// picture and the notes written out do not.
func TestShaped(t *testing.T) {
	p, _, err := abc.Decode("X:1\nC:W. A. Mozart\nM:4/4\nL:1/4\nQ:1/4=60\nK:C\nTd4 | c4 |]\n")
	require.NoError(t, err)
	r := realize.Read(p, realize.Taste{})
	for format, differs := range map[string]bool{"midi": true, "wav": true, "svg": false, "musicxml": false, "abc": false} {
		even, err := export.Write(format, r, export.Options{Played: true})
		require.NoError(t, err)
		shaped, err := export.Write(format, r, export.Options{Played: true, Shaped: true})
		require.NoError(t, err)
		assert.Equal(t, differs, string(even) != string(shaped), format)
	}
}
