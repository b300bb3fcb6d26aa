package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/score"
)

// TestWhatTheFileAsks: MusicXML's attributes for the sound of a sign, and for
// the time of small notes, lead the list. Meaning and defaults: MusicXML 4.0
// (read): a trill begins on its upper note, a mordent on its main note;
// beats are its distinct notes, second-beat and last-beat percentages of the
// whole; start-note says where it begins; two-note-turn how it ends.
func TestWhatTheFileAsks(t *testing.T) {
	for _, c := range []struct {
		name, music, want string
		sound             score.TrillSound
		grace             score.Grace
	}{
		{name: "a trill from its main note", music: "Td2 c2", sound: score.TrillSound{StartNote: "main"},
			want: "D5:2/9 E5:2/9 D5:2/9 E5:2/9 D5:2/9 E5:2/9 D5:2/9 E5:2/9 D5:2/9"},
		{name: "a trill from below", music: "Td2 c2", sound: score.TrillSound{StartNote: "below", Beats: 4},
			want: "C5:1/2 D5:1/2 E5:1/2 D5:1/2"},
		{name: "four notes", music: "Td2 c2", sound: score.TrillSound{Beats: 4}, want: "E5:1/2 D5:1/2 E5:1/2 D5:1/2"},
		{name: "an ending", music: "Td2 c2", sound: score.TrillSound{Beats: 6, TwoNoteTurn: "whole"},
			want: "E5:1/3 D5:1/3 E5:1/3 D5:1/3 C5:1/3 D5:1/3"},
		{name: "an ending with a half step", music: "Td2 c2", sound: score.TrillSound{Beats: 6, TwoNoteTurn: "half"},
			want: "E5:1/3 D5:1/3 E5:1/3 D5:1/3 C#5:1/3 D5:1/3"},
		{name: "the size of the step", music: "Td2 c2", sound: score.TrillSound{Beats: 4, TrillStep: "half"},
			want: "Eb5:1/2 D5:1/2 Eb5:1/2 D5:1/2"},
		{name: "quicker and quicker", music: "Td2 c2", sound: score.TrillSound{Beats: 6, Accelerate: true},
			want: "E5:1/2 D5:1/2 E5:1/4 D5:1/4 E5:1/4 D5:1/4"},
		{name: "a mordent by its percentages", music: "Md2 c2", sound: score.TrillSound{Beats: 3, SecondBeat: 12.5, LastBeat: 25},
			want: "D5:1/4 C5:1/4 D5:3/2"},
		{name: "a turn from the main note", music: "!turn!d2 c2", sound: score.TrillSound{StartNote: "main"},
			want: "D5:2/5 E5:2/5 D5:2/5 C5:2/5 D5:2/5"},
		{name: "time of the note before", music: "c2 {e/2}d2", grace: score.Grace{StealPrevious: 25}, want: "E5:1/2 D5:2"},
		{name: "time of the principal", music: "c2 {e/2}d2", grace: score.Grace{StealFollowing: 50}, want: "E5:1 D5:1"},
		{name: "time made", music: "c2 {e/2}d2", grace: score.Grace{MakeTime: music.F(1, 4)}, want: "E5:1/4 D5:7/4"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\n"+c.music+" |]\n")
			for i := range p.Chords {
				if g := p.Chords[i].Grace; g != nil {
					*g = c.grace
				}
				for j := range p.Chords[i].Signs {
					p.Chords[i].Signs[j].Sound = c.sound
				}
			}
			r := realize.Read(p, realize.Taste{Tradition: "vienna", Tempo: 60, Rate: 4})
			require.Len(t, r.Ornaments, 1)
			first := r.Ornaments[0].Choices[0]
			assert.Equal(t, "as.file", first.Key)
			assert.Equal(t, c.want, shown(first))
		})
	}
	// Without attributes the tradition decides.
	p := passage(t, "X:1\nM:4/4\nL:1/4\nK:C\nTd2 c2 |]\n")
	for _, c := range realize.Read(p, realize.Taste{}).Ornaments[0].Choices {
		assert.NotEqual(t, "as.file", c.Key)
	}
}
