package score_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize/music"
	"agremens/realize/score"
)

// Small print sounds where no other voice of its staff strikes beside it.
// Common practice, no source.
func TestCuesSounding(t *testing.T) {
	at := func(voice string, staff int, from, to int64, cue bool) score.Chord {
		return score.Chord{Voice: voice, Staff: staff, Onset: music.F(from, 2), Dur: music.F(to-from, 2), Cue: cue,
			Notes: []score.Note{{Pitch: music.MustPitch("C5"), Staff: staff}}}
	}
	hidden := at("2", 1, 4, 6, true)
	hidden.Hidden = true
	for _, c := range []struct {
		name   string
		chords []score.Chord
		want   []bool
	}{
		{"alone", []score.Chord{at("1", 1, 4, 5, true), at("1", 1, 5, 6, true)}, []bool{true, true}},
		{"beside moving notes", []score.Chord{at("1", 1, 4, 5, false), at("2", 1, 4, 5, true), at("1", 1, 5, 6, false), at("2", 1, 5, 6, true)},
			[]bool{false, false, false, false}},
		{"one note struck in the middle silences the whole", []score.Chord{at("2", 1, 4, 5, true), at("1", 1, 5, 6, false), at("2", 1, 5, 6, true)},
			[]bool{false, false, false}},
		{"over a held note", []score.Chord{at("1", 1, 0, 8, false), at("2", 1, 4, 5, true), at("2", 1, 5, 6, true)}, []bool{false, true, true}},
		{"over the other hand", []score.Chord{at("1", 1, 4, 5, true), at("5", 2, 4, 5, false)}, []bool{true, false}},
		{"hidden", []score.Chord{hidden}, []bool{false}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := &score.Passage{Staves: 2, Chords: c.chords, Measures: []score.Measure{{Length: music.Int(4), Metre: music.Metre{Beats: 4, Unit: 4}}}}
			assert.Equal(t, c.want, p.CuesSounding())
		})
	}
}
