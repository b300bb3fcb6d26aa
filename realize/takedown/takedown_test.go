package takedown_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize/takedown"
)

// An ornament on A, a half note long, after E and before C sharp and E.
var place = takedown.Place{
	Key: 69, Length: 2, About: 120, Lowest: 60, Highest: 78, Likely: []int{69, 71, 68},
	Around: []takedown.Printed{{64, -1, true}, {57, 0, false}, {52, 1, false}, {73, 2, true}, {76, 3, true}},
}

// played makes strikes of "key@quarter" at a tempo in seconds of a quarter.
func played(quarter float64, notes string) []takedown.Strike {
	var s []takedown.Strike
	for _, word := range strings.Fields(notes) {
		var key int
		var at float64
		fmt.Sscanf(word, "%d@%f", &key, &at)
		s = append(s, takedown.Strike{Key: key, At: 10 + at*quarter, Odds: takedown.Certain})
	}
	return s
}

const (
	printed = "64@-1 57@0 52@1 73@2 76@3 "
	alone   = "64@-1 73@2 76@3 "
)

// Rhythms are ours; what is the simplest one for it is common practice, no
// source.
func TestWrite(t *testing.T) {
	for name, tt := range map[string]struct {
		notes string
		want  string
	}{
		"a mordent in sixteenths":         {printed + "69@0 68@0.25 69@0.5", "69 0 1/4, 68 1/4 1/4, 69 1/2 3/2"},
		"not quite in time":               {printed + "69@0.02 68@0.24 69@0.53", "69 0 1/4, 68 1/4 1/4, 69 1/2 3/2"},
		"the hand alone":                  {alone + "69@0 68@0.25 69@0.5", "69 0 1/4, 68 1/4 1/4, 69 1/2 3/2"},
		"triplets":                        {printed + "71@0 69@0.333 68@0.667 69@1", "71 0 1/3, 69 1/3 1/3, 68 2/3 1/3, 69 1 1"},
		"before the beat":                 {printed + "71@-0.25 69@0", "71 -1/4 1/4, 69 0 2"},
		"a trill with a termination":      {printed + "71@0 69@0.25 71@0.5 69@0.75 71@1 69@1.25 68@1.5 69@1.75", "71 0 1/4, 69 1/4 1/4, 71 1/2 1/4, 69 3/4 1/4, 71 1 1/4, 69 5/4 1/4, 68 3/2 1/4, 69 7/4 1/4"},
		"a turn at the end":               {printed + "69@0 71@1 69@1.25 68@1.5 69@1.75", "69 0 1, 71 1 1/4, 69 5/4 1/4, 68 3/2 1/4, 69 7/4 1/4"},
		"an appoggiatura":                 {printed + "71@0 69@1", "71 0 1, 69 1 1"},
		"nothing on the beat":             {printed + "69@0.25 68@0.5 69@0.75", "64 0 1/4 held, 69 1/4 1/4, 68 1/2 1/4, 69 3/4 5/4"},
		"two keys together":               {printed + "68@0 69@0.005", "68 0 1/8, 69 0 2"},
		"the printed note alone":          {printed + "69@0", "69 0 2"},
		"nothing before it":               {"69@0 68@0.25 69@0.5 73@2 76@3", "69 0 1/4, 68 1/4 1/4, 69 1/2 3/2"},
		"only itself, at the tempo asked": {"69@0 68@0.25 69@0.5", "69 0 1/4, 68 1/4 1/4, 69 1/2 3/2"},
	} {
		t.Run(name, func(t *testing.T) {
			for _, quarter := range []float64{0.5, 0.6} {
				if name == "only itself, at the tempo asked" {
					quarter = 0.5
				}
				v, ok := place.Write(played(quarter, tt.notes))
				require.True(t, ok)
				assert.Equal(t, tt.want, written(v), "%v s a quarter", quarter)
				assert.Equal(t, name == "only itself, at the tempo asked", v.Alone)
				assert.False(t, v.Free)
			}
		})
	}
}

func written(v takedown.Version) string {
	var words []string
	for _, n := range v.Notes {
		word := fmt.Sprintf("%d %s %s", n.Key, n.Onset, n.Dur)
		if n.HeldOver {
			word += " held"
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

func TestWhatIsPlayedMostOftenIsMeant(t *testing.T) {
	mordent, turn := played(0.5, printed+"69@0 68@0.25 69@0.5"), played(0.5, printed+"71@0 69@0.25 68@0.5 69@0.75")
	v, ok := place.Write(mordent, turn, mordent)
	require.True(t, ok)
	assert.Equal(t, 2, v.Take)
	assert.Equal(t, 2, v.Alike)
	v, _ = place.Write(mordent, turn)
	assert.Equal(t, 1, v.Take, "who plays again corrects")
	_, ok = place.Write(nil, played(0.5, alone))
	assert.False(t, ok, "no note of the ornament")
}

// What was only heard must be likely: strings sound that nobody struck.
func TestPartialsAreNotPlayed(t *testing.T) {
	s := played(0.5, alone+"69@0 68@0.25 69@0.5")
	for i := range s {
		s[i].Odds = 5
	}
	for _, ghost := range played(0.5, "76@0 76@0.25 61@0.5") { // a twelfth and an octave away
		ghost.Odds = 1.5
		s = append(s, ghost)
	}
	v, ok := place.Write(s)
	require.True(t, ok)
	assert.Equal(t, "69 0 1/4, 68 1/4 1/4, 69 1/2 3/2", written(v))
}

// A string that rings is shaken by another's blow: that is no note. Notes of an
// ornament that come quicker than any false one are.
func TestWhatIsShakenIsNotPlayed(t *testing.T) {
	heard := func(odds float64, notes string) []takedown.Strike {
		s := played(0.5, notes)
		for i := range s {
			s[i].Odds = odds
		}
		return s
	}
	v, ok := place.Write(append(heard(12, printed+"69@0 68@0.25 69@0.5"), heard(3, "69@0.99")...))
	require.True(t, ok)
	assert.Equal(t, "69 0 1/4, 68 1/4 1/4, 69 1/2 3/2", written(v))

	v, ok = place.Write(append(heard(12, alone+"71@0 69@0.25 71@0.5"), heard(6, "69@0.546")...))
	require.True(t, ok)
	require.Len(t, v.Notes, 4, "23 ms apart")
}

// A rolled chord has each key once, and its keys lie to the end.
func TestARolledChord(t *testing.T) {
	p := place
	p.Spread, p.Chord = true, []int{64, 61}
	s := played(0.5, alone+"61@0 64@0.125 69@0.25")
	for i := range s {
		s[i].Odds = 5
	}
	ghost := played(0.5, "61@0.3")[0]
	ghost.Odds = 4
	v, ok := p.Write(append(s, ghost))
	require.True(t, ok)
	assert.Equal(t, "61 0 2, 64 1/8 15/8, 69 1/4 7/4", written(v))
}

// Whatever is played, what is written can be played: in order, each note with
// a length.
func TestWhateverIsPlayed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		strike := rapid.Custom(func(t *rapid.T) takedown.Strike {
			return takedown.Strike{Key: rapid.IntRange(-1, 128).Draw(t, "key"), At: rapid.Float64Range(-2, 6).Draw(t, "at"), Odds: rapid.Float64Range(-1, 20).Draw(t, "odds")}
		})
		p := place
		p.Length = rapid.Float64Range(0, 5).Draw(t, "length")
		p.Spread = rapid.Bool().Draw(t, "spread")
		v, ok := p.Write(rapid.SliceOfN(strike, 0, 40).Draw(t, "strikes"))
		if !ok {
			return
		}
		require.NotEmpty(t, v.Notes)
		for i, n := range v.Notes {
			require.Positive(t, n.Dur.Sign(), "%v", v.Notes)
			require.True(t, i == 0 || !n.Onset.Less(v.Notes[i-1].Onset), "%v", v.Notes)
		}
	})
}
