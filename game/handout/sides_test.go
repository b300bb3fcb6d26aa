package handout

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

func passage(t *testing.T, upper, lower string) *score.Passage {
	p, _, err := abc.Decode("X:1\nM:4/4\nL:1/4\n%%score {1 2}\nK:C\nV:1\n" + upper + "|]\nV:2 clef=bass\n" + lower + "|]\n")
	require.NoError(t, err)
	require.Equal(t, 2, p.Staves)
	return p
}

// A beat of one hand is enough to turn a page: before the bar line, after it,
// or half and half (common practice, no source).
func TestAHandIsFreeToTurn(t *testing.T) {
	const busy = "C, D, E, F,|C, D, E, F,"
	for _, c := range []struct {
		name, upper, lower string
		want               bool
	}{
		{"both hands play", "c d e f|c d e f", busy, false},
		{"a rest before the bar line", "c d e z|c d e f", busy, true},
		{"a rest after it", "c d e f|z d e f", busy, true},
		{"half and half", "c d e f/z/|z/c/ d e f", busy, true},
		{"an eighth is too short", "c d e f/z/|c d e f", busy, false},
		{"the left hand rests", "c d e f|c d e f", "C, D, E, z|C, D, E, F,", true},
		{"a rest elsewhere", "c z e f|c z e f", busy, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := passage(t, c.upper, c.lower)
			assert.Equal(t, c.want, free(p, 1))
			assert.False(t, free(p, 0), "the beginning is no turn")
			assert.False(t, free(p, 2), "nor is the end")
		})
	}
}

// Every system stands on one side, no side is longer than its paper, and
// where the hands rest often enough every turn finds a rest.
func TestALongPassageStandsOnSides(t *testing.T) {
	for name, rest := range map[string]int{"rests in every third bar": 3, "rests in every bar": 1, "no rests": 0} {
		t.Run(name, func(t *testing.T) {
			var upper, lower []string
			for bar := range 160 {
				u := "c/d/e/f/ g/f/e/d/"
				if rest > 0 && bar%rest == 0 {
					u = "c/d/e/f/ g/f/ z"
				}
				upper, lower = append(upper, u), append(lower, "C,/E,/G,/E,/ C,/E,/G,/E,/")
			}
			p := passage(t, strings.Join(upper, "|"), strings.Join(lower, "|"))
			l := engrave.Page(p, nil, width, engrave.Options{To: len(p.Measures)})
			all := sides(l, p)
			require.Greater(t, len(all), 3, "some sides")
			systems, items, turns := 0, 0, 0
			for i, part := range all {
				require.NotEmpty(t, part.Systems)
				systems += len(part.Systems)
				assert.LessOrEqual(t, part.Bottom-part.Top, sideHeight(l))
				items += len(part.Items)
				if turned := i%2 == 1 && i < len(all)-1; turned && free(p, part.Systems[len(part.Systems)-1].To) {
					turns++
					assert.GreaterOrEqual(t, part.Bottom-part.Top, sideHeight(l)/2)
				}
			}
			assert.Equal(t, len(l.Systems), systems)
			assert.Equal(t, len(l.Items), items)
			switch {
			case rest == 0:
				assert.Zero(t, turns)
			default:
				assert.Equal(t, (len(all)-1)/2, turns, "all turns but the last side's")
			}
		})
	}
}

// The sheet of a long passage has its music on sides, counted through; a short
// one keeps it.
func TestOnlyLongPassagesHaveSides(t *testing.T) {
	bars := func(n int) Handout {
		p := passage(t, strings.TrimSuffix(strings.Repeat("c d e f|", n), "|"), strings.TrimSuffix(strings.Repeat("C,4|", n), "|"))
		d := desk.New("x", p, realize.Taste{})
		d.From, d.To = 0, n
		return Make(d, "", nil)
	}
	short := bars(8)
	assert.NotNil(t, short.Music)
	assert.Nil(t, short.Sides)
	long := bars(120)
	assert.Nil(t, long.Music)
	require.NotNil(t, long.Sides)
	counted := 0
	for _, side := range long.Sides {
		counted += strings.Count(string(side), "<text ")
	}
	assert.Equal(t, 4*120, counted)
}
