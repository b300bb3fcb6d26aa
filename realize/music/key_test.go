package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"agremens/realize/music"
)

// The signatures, as every primer of notation prints them (common practice,
// no source): sharps enter F C G D A E B, flats the other way.
func TestKeyAlter(t *testing.T) {
	for _, tc := range []struct {
		fifths  int8
		altered string // letters with a sharp, or with a flat for fifths < 0
	}{
		{0, ""},
		{1, "F"}, {2, "FC"}, {3, "FCG"}, {4, "FCGD"}, {5, "FCGDA"}, {6, "FCGDAE"}, {7, "FCGDAEB"},
		{-1, "B"}, {-2, "BE"}, {-3, "BEA"}, {-4, "BEAD"}, {-5, "BEADG"}, {-6, "BEADGC"}, {-7, "BEADGCF"},
	} {
		want := map[string]int{}
		for _, letter := range tc.altered {
			want[string(letter)] = 1
			if tc.fifths < 0 {
				want[string(letter)] = -1
			}
		}
		for step := music.C; step <= music.B; step++ {
			assert.Equal(t, want[step.String()], music.Key{Fifths: tc.fifths}.Alter(step), "%d: %s", tc.fifths, step)
		}
	}
}

// Key notes of the fifteen signatures (common practice, no source).
func TestKeyTonic(t *testing.T) {
	for _, tc := range []struct {
		fifths       int8
		major, minor string
	}{
		{-7, "Cb", "Ab"}, {-6, "Gb", "Eb"}, {-5, "Db", "Bb"}, {-4, "Ab", "F"}, {-3, "Eb", "C"},
		{-2, "Bb", "G"}, {-1, "F", "D"}, {0, "C", "A"}, {1, "G", "E"}, {2, "D", "B"}, {3, "A", "F#"},
		{4, "E", "C#"}, {5, "B", "G#"}, {6, "F#", "D#"}, {7, "C#", "A#"},
	} {
		for mode, want := range map[music.Mode]string{music.Major: tc.major, music.UnknownMode: tc.major, music.Minor: tc.minor} {
			step, alter := music.Key{Fifths: tc.fifths, Mode: mode}.Tonic()
			assert.Equal(t, want+"4", music.Pitch{Step: step, Alter: int8(alter), Octave: 4}.String(), "%d, mode %d", tc.fifths, mode)
		}
	}
}

// The key note belongs to its own scale, and the seven degrees are the seven
// letters.
func TestKeyDegrees(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := music.Key{Fifths: rapid.Int8Range(-7, 7).Draw(t, "fifths"), Mode: music.Mode(rapid.IntRange(0, 2).Draw(t, "mode"))}
		step, alter := k.Tonic()
		if alter != k.Alter(step) {
			t.Fatalf("%+v: the key note %v is altered by %d, its scale has %d", k, step, alter, k.Alter(step))
		}
		if k.Degree(step) != 1 {
			t.Fatalf("%+v: the key note is degree %d", k, k.Degree(step))
		}
		seen := map[int]bool{}
		for s := music.C; s <= music.B; s++ {
			seen[k.Degree(s)] = true
		}
		for d := 1; d <= 7; d++ {
			if !seen[d] {
				t.Fatalf("%+v has no degree %d", k, d)
			}
		}
	})
}
