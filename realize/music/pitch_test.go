package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize/music"
)

func pitches(t *rapid.T, label string) music.Pitch {
	return music.Pitch{
		Step:   music.Step(rapid.IntRange(0, 6).Draw(t, label+" step")),
		Alter:  rapid.Int8Range(-2, 2).Draw(t, label+" alter"),
		Octave: rapid.Int8Range(-1, 9).Draw(t, label+" octave"),
	}
}

// Key numbers by the MIDI standard: middle C is 60, A4 69, the piano's ends
// 21 and 108.
func TestPitchMIDI(t *testing.T) {
	for name, want := range map[string]int{
		"C4": 60, "A4": 69, "A0": 21, "C8": 108, "B#3": 60, "Cb4": 59, "F##4": 67, "Bbb4": 69, "C-1": 0, "E♭4": 63, "F♯4": 66,
	} {
		p, err := music.ParsePitch(name)
		require.NoError(t, err)
		assert.Equal(t, want, p.MIDI(), name)
	}
	for _, bad := range []string{"", "H4", "C", "4", "C#", "C###4", "Cbbb4", "C99", "c4", "C4 "} {
		_, err := music.ParsePitch(bad)
		assert.ErrorIs(t, err, music.ErrPitch, bad)
	}
	assert.Panics(t, func() { music.MustPitch("H4") })
}

func TestPitchRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := pitches(t, "p")
		q, err := music.ParsePitch(p.String())
		if err != nil || q != p {
			t.Fatalf("%v reads back as %v, %v", p, q, err)
		}
		if r := music.FromDiatonic(p.Diatonic(), int(p.Alter)); r != p {
			t.Fatalf("%v from its staff position is %v", p, r)
		}
	})
}

// To and Transpose are inverse, and an interval there and back is none.
func TestTransposeInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := pitches(t, "p"), pitches(t, "q")
		iv := p.To(q)
		if r := p.Transpose(iv); r != q {
			t.Fatalf("%v by %v is %v, not %v", p, iv, r, q)
		}
		back := q.To(p)
		if back.Steps != -iv.Steps || back.Semitones != -iv.Semitones {
			t.Fatalf("%v and back %v", iv, back)
		}
	})
}

// The neighbour belongs to the key and lies so many letters away.
func TestNeighbour(t *testing.T) {
	for _, tc := range []struct {
		from, want string
		n          int
		key        int8
	}{
		// Common practice, no source.
		{"B4", "C5", 1, 0}, {"E4", "F#4", 1, 2}, {"C4", "Bb3", -1, -2}, {"G#4", "F#4", -1, 3}, {"C4", "C5", 7, 0},
	} {
		got := music.MustPitch(tc.from).Neighbour(tc.n, music.Key{Fifths: tc.key})
		assert.Equal(t, tc.want, got.String(), tc)
	}
}
