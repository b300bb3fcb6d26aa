package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
)

// placed prints a choice with onsets: "C4@0:1 D4@1/4:1/4".
func placed(c realize.Choice) string {
	text := ""
	for _, n := range c.Notes {
		text += " " + n.Pitch.String() + "@" + n.Onset.String() + ":" + n.Dur.String()
	}
	return text[1:]
}

// TestPublishedChordRows asserts the published entries whose notes sound
// together, with onset and value in quarters.
func TestPublishedChordRows(t *testing.T) {
	for _, c := range []struct {
		id, tradition, music, want, status, source string
		tempo                                      float64
	}{
		{id: "B14", tradition: "french", music: "!tiercecoulee![ce] z", tempo: 72, want: "C5@0:1 D5@1/4:1/4 E5@1/2:1/2",
			status: "reported", source: "tierce coulée en montant: the low note held, the passing note let go; shares from memory"},
		{id: "B15", tradition: "french", music: "!tiercecoulee![ce] z", tempo: 72, want: "E5@0:1 D5@1/4:1/4 C5@1/2:1/2",
			status: "reported", source: "tierce coulée en descendant, as B14"},
		{id: "B19 up", tradition: "french", music: "!arpeggio![ceg]4", tempo: 60, want: "C5@0:4 E5@1/16:63/16 G5@1/8:31/8",
			status: "memory", source: "arpègement en montant: bottom to top from the beat, all held"},
		{id: "C9", tradition: "english", music: "!tiercecoulee![ce] z", tempo: 72, want: "C5@0:1 D5@1/4:1/4 E5@1/2:1/2",
			status: "memory", source: "Rules for Graces (1697), slur: as B14"},
		{id: "C10", tradition: "english", music: "!arpeggio![ceg] z", tempo: 72, want: "C5@0:1/8 E5@1/8:1/8 G5@1/4:1/8 E5@3/8:1/8 C5@1/2:1/8 E5@5/8:1/8 G5@3/4:1/8 E5@7/8:1/8",
			status: "memory", source: "Rules for Graces (1697), battery: up and down through the whole note"},
		{id: "R6", tradition: "berlin", music: "!arpeggio![ceg] z", tempo: 120, want: "C5@0:1 E5@1/8:7/8 G5@1/4:3/4",
			status: "reported", source: "C.P.E. Bach through Grove: three notes at 0, 1/8 and 1/4, all held"},
		{id: "D22", tradition: "berlin", music: "M[CG] z", tempo: 72, want: "F4@0:1/16 G4@0:1",
			status: "read", source: "Versuch 2.5 §3, abbreviated mordent; the sixteenth is suggested"},
		{id: "M29", tradition: "london", music: "{[df]/2}[ce] z", tempo: 72, want: "D5@0:1/2 F5@0:1/2 C5@1/2:1/2 E5@1/2:1/2",
			status: "read", source: "Clementi 1801: two small notes before a third, both voices lean"},
		{id: "acciaccatura in a roll", tradition: "london", music: "{d/2}!arpeggio![ceg] z", tempo: 60, want: "C5@0:1 D5@1/16:1/16 E5@1/8:7/8 G5@3/16:13/16",
			status: "read", source: "Clementi 1801: an added passing note that is not held"},
		{id: "acciaccatura", tradition: "vienna", music: "{/B/2}c z", tempo: 72, want: "B4@0:1/16 C5@0:1",
			status: "common practice", source: "the small note and its principal together, the small one let go at once"},
	} {
		t.Run(c.id, func(t *testing.T) {
			p := passage(t, "X:1\nM:none\nL:1/4\nK:C\n"+c.music+" |]\n")
			r := realize.Read(p, realize.Taste{Tradition: c.tradition, Tempo: c.tempo})
			require.NotEmpty(t, r.Ornaments)
			var got []string
			for _, x := range r.Ornaments[0].Choices {
				got = append(got, placed(x))
			}
			assert.Contains(t, got, c.want, c.source)
		})
	}
}

// A small note before one of two notes leaves the other where it is:
// Clementi 1801, read (M29).
func TestOneSmallNoteDelaysOneVoice(t *testing.T) {
	p := passage(t, "X:1\nM:none\nL:1/4\nK:C\n{f/2}[ce] z |]\n")
	r := realize.Read(p, realize.Taste{Tradition: "london", Tempo: 72})
	for _, n := range realize.Perform(r, realize.PerformOptions{}).Notes {
		if n.Pitch.String() == "C5" {
			assert.Equal(t, "0 1", n.Onset.String()+" "+n.Dur.String())
		}
	}
}

// The two small notes of an Anschlag are softer than their principal:
// C.P.E. Bach, Versuch 2.6, reported. Dotted, the first is loud, the second and
// the principal soft: Versuch 2.6 §10, read.
func TestSmallNotesOfAnAnschlagAreSofter(t *testing.T) {
	p := passage(t, "X:1\nM:none\nL:1/4\nK:C\n{B/2d/2}c z |]\n")
	r := realize.Read(p, realize.Taste{Tradition: "berlin", Tempo: 54})
	for _, c := range r.Ornaments[0].Choices {
		switch c.Key {
		case "small.beat":
			assert.Less(t, c.Notes[0].Strength, c.Notes[2].Strength)
			assert.Less(t, c.Notes[1].Strength, c.Notes[2].Strength)
		case "anschlag.dotted":
			assert.Greater(t, c.Notes[0].Strength, c.Notes[1].Strength)
			assert.Greater(t, c.Notes[0].Strength, c.Notes[2].Strength)
		}
	}
}
