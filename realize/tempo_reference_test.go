package realize_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize"
	"agremens/realize/score"
)

// movementTempo is a movement with what is guessed and what was played.
type movementTempo struct {
	name, work     string
	asked          int
	onsets         float64
	played, guess  float64 // quarters a minute
	withItsWorkOut float64 // guessed by a fit without its work
}

func (m *movementTempo) close(quarters float64) bool { return math.Abs(quarters/m.played-1) <= .25 }

// playedTempos are the median tempos of all movements, from the beats of
// neighbouring ornaments.
func playedTempos(t *testing.T) map[string]float64 {
	type beat struct{ quarters, ms float64 }
	runs := map[[2]string][]beat{}
	eachCase(t, func(c *played) {
		if piece, _, _ := strings.Cut(c.Occ, "#"); c.Beat != nil {
			k := [2]string{piece, c.Performer + c.Rep}
			runs[k] = append(runs[k], beat{c.Ctx.Onset, *c.Beat})
		}
	})
	speeds := map[string][]float64{}
	for k, beats := range runs {
		slices.SortFunc(beats, func(a, b beat) int { return int(math.Copysign(1, a.quarters-b.quarters)) })
		for i := 1; i < len(beats); i++ {
			quarters, ms := beats[i].quarters-beats[i-1].quarters, beats[i].ms-beats[i-1].ms
			if quarters > 0 && quarters <= 64 && ms > 300 {
				speeds[k[0]] = append(speeds[k[0]], 60000*quarters/ms)
			}
		}
	}
	out := map[string]float64{}
	for piece, v := range speeds {
		slices.Sort(v)
		out[piece] = v[len(v)/2]
	}
	return out
}

// fitTempos fits the logarithm of the tempo to the tempo word and the onsets,
// with a slight pull of the words towards none.
func fitTempos(from []*movementTempo, paces int) func(*movementTempo) float64 {
	facts := func(m *movementTempo) []float64 {
		x := make([]float64, paces+1)
		x[0], x[paces] = 1, math.Log(max(m.onsets, .5))
		if m.asked > 0 {
			x[m.asked] = 1
		}
		return x
	}
	n := paces + 1
	a := make([][]float64, n) // normal equations, the right side last
	for i := range a {
		a[i] = make([]float64, n+1)
		if i > 0 {
			a[i][i] = 1
		}
	}
	for _, m := range from {
		x := facts(m)
		for i := range n {
			for j := range n {
				a[i][j] += x[i] * x[j]
			}
			a[i][n] += x[i] * math.Log(m.played)
		}
	}
	for i := range n {
		for r := range n {
			if r != i {
				f := a[r][i] / a[i][i]
				for c := i; c <= n; c++ {
					a[r][c] -= f * a[i][c]
				}
			}
		}
	}
	return func(m *movementTempo) float64 {
		sum := 0.
		for i, x := range facts(m) {
			sum += x * a[i][n] / a[i][i]
		}
		return math.Exp(sum)
	}
}

// TestGuessedTempos guesses the tempo of every movement as if none were
// printed, each by a fit that its work had no part in. The program's own
// constants are those of the fit to all. With -v it prints the table.
func TestGuessedTempos(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	speeds := playedTempos(t)
	var all []*movementTempo
	paces := 0
	eachPerformed(t, func(prefix string, p *score.Passage) {
		if speeds[prefix] > 0 {
			m := &movementTempo{name: prefix, played: speeds[prefix]}
			_, piece, _ := strings.Cut(prefix, "/")
			m.work = workOf(piece)
			m.asked, paces, m.onsets, m.guess = realize.Guess(p)
			all = append(all, m)
		}
	})
	slices.SortFunc(all, func(a, b *movementTempo) int { return strings.Compare(a.name, b.name) })
	near, own := 0, 0
	fmt.Println("\n| movement | played | guessed, its work left out | guessed |\n|---|---|---|---|")
	for _, m := range all {
		var others []*movementTempo
		for _, o := range all {
			if o.work != m.work {
				others = append(others, o)
			}
		}
		m.withItsWorkOut = fitTempos(others, paces)(m)
		mark := ""
		if m.close(m.withItsWorkOut) {
			near++
		} else {
			mark = " (off)"
		}
		if m.close(m.guess) {
			own++
		}
		fmt.Printf("| %s | %.0f | %.0f%s | %.0f |\n", m.name, m.played, m.withItsWorkOut, mark, m.guess)
	}
	fmt.Printf("within a quarter of what is played: %d of %d with each work left out of the fit, %d as the program guesses\n", near, len(all), own)
	assert.GreaterOrEqual(t, 100*near, 60*len(all))
	fitted := fitTempos(all, paces)
	for _, m := range all {
		assert.InEpsilon(t, fitted(m), m.guess, .1, "%s: the constants are not those of the fit", m.name)
	}
}
