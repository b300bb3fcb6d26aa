package realize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
)

// reading reads a line of the right hand over one of the left.
func reading(t *testing.T, key, right, left string) *realize.Reading {
	t.Helper()
	p, _, err := abc.Decode("X:1\nM:4/4\nL:1/4\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:" + key + "\n[V:R] " + right + "\n[V:L] " + left + "\n")
	require.NoError(t, err)
	return realize.Read(p, realize.Taste{Tradition: "vienna", Tempo: 80})
}

// TestNeighbours: what is written around the sign decides. Common practice
// (the order "notes before, then after, then the key" is C.P.E. Bach's, by
// report), no source for each line.
func TestNeighbours(t *testing.T) {
	for _, tc := range []struct{ name, key, right, left, upper, lower string }{
		{"the signature, where nothing else is said", "D", "d f a Tb | a f d2 |]", "D,4 | D,4 |]", "C#6", "A5"},
		{"the same letter before it in the voice", "C", "_e f g Td | c4 |]", "C,4 | C,4 |]", "Eb5", "C5"},
		{"in the other hand at the same time", "C", "c e g Tg | f4 |]", "C,3 _A, | F,4 |]", "Ab5", "F5"},
		{"later in the bar counts for little", "C", "e Td c _e | d4 |]", "C,4 | G,4 |]", "E5", "C5"},
		{"the mark on the sign wins over all", "C", "_e f g \"^=\"Td | c4 |]", "C,4 | C,4 |]", "E5", "C5"},
		{"an augmented second away it is no neighbour", "Am", "^g a b Tf | e4 |]", "A,4 | E,4 |]", "G5", "E5"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			o := reading(t, tc.key, tc.right, tc.left).Ornaments[0]
			assert.Equal(t, tc.upper, o.Upper.String(), "upper")
			assert.Equal(t, tc.lower, o.Lower.String(), "lower")
		})
	}
}

// A turn on D after an E flat, in a signature of four flats, before a bar with
// the seventh chord on B natural, fills the minor third from C to E flat,
// whichever way it is played. Case from a teacher's lesson.
func TestTurnFillsAMinorThird(t *testing.T) {
	for _, sign := range []string{"!turn!", "!turnx!", "!invertedturn!"} {
		o := reading(t, "Fm", "c e "+sign+"d c | [=Bfad']4 |]", "A,2 G,2 | G,4 |]").Ornaments[0]
		require.NotEmpty(t, o.Choices)
		for _, c := range o.Choices {
			for _, n := range c.Notes {
				switch n.Degree {
				case 1:
					assert.Equal(t, music.MustPitch("Eb5"), n.Pitch, c.Key)
				case -1:
					assert.Equal(t, music.MustPitch("C5"), n.Pitch, c.Key)
				}
			}
		}
	}
}

// With a whole tone above, the first choice has a semitone below, unless the
// line touches the whole tone beside it.
func TestTurnUnderAWholeTone(t *testing.T) {
	below := func(right string) string {
		for _, n := range reading(t, "C", right, "C,4 | C,4 |]").Ornaments[0].Choices[0].Notes {
			if n.Degree == -1 {
				return n.Pitch.String()
			}
		}
		return ""
	}
	assert.Equal(t, "F#5", below("c e !turn!g e | c4 |]"))
	assert.Equal(t, "F5", below("c f !turn!g e | c4 |]"))
}

// Where two upper neighbours are possible, one question is about both
// neighbours of the turn, and its answer changes both.
func TestTurnQuestion(t *testing.T) {
	r := reading(t, "C", "c e !turn!d f | c4 |]", "G, _E, G, G, | C,4 |]")
	for i, q := range r.Questions {
		if q.About != realize.AboutAccidental {
			continue
		}
		assert.Equal(t, "Bar 1: does the turn on D take E and C♯, or E♭ and C?", q.Text)
		taste := r.Answer(realize.Taste{Tradition: "vienna", Tempo: 80}, i, 1)
		o := realize.Read(r.Passage, taste).Ornaments[0]
		got := map[int]string{}
		for _, n := range o.Choices[o.Chosen].Notes {
			got[n.Degree] = n.Pitch.String()
		}
		assert.Equal(t, "Eb5", got[1])
		assert.Equal(t, "C5", got[-1])
		return
	}
	assert.Fail(t, "nothing is asked", "%v", r.Questions)
}
