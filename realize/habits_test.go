package realize_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"agremens/realize"
)

// byWork is a mean in which works weigh the same, as sums by work.
type byWork map[string][2]float64

func (b byWork) add(work string, v float64) { b[work] = [2]float64{b[work][0] + v, b[work][1] + 1} }

// without is the mean of all works but one.
func (b byWork) without(work string) float64 {
	sum, n := 0., 0.
	for w, v := range b {
		if w != work {
			sum, n = sum+v[0]/v[1], n+1
		}
	}
	return sum / max(n, 1)
}

// fewestWorks must support a habit.
const fewestWorks = 3

// TestHabits admits the habits of pianists: a habit must change the first
// choice in three works or more, and gain there, whichever work is left out.
// Those that the sources decide, because works disagree, say so. With -v it
// prints the table.
func TestHabits(t *testing.T) {
	if testing.Short() {
		t.Skip("goes through all reference scores")
	}
	places := performedPlaces(t)
	type row struct {
		in, out byWork
	}
	rows := make([]row, realize.Habits())
	all := map[string]byWork{}
	for i := range rows {
		rows[i] = row{byWork{}, byWork{}}
	}
	for _, p := range places {
		first := p.First(-1)
		kind := p.cases[0].Kind
		if all[kind] == nil {
			all[kind] = byWork{}
		}
		all[kind].add(p.work, p.share(first))
		for _, i := range p.Asked {
			if other := p.First(i); other != first {
				rows[i].in.add(p.work, p.share(first))
				rows[i].out.add(p.work, p.share(other))
			}
		}
	}
	fmt.Println("\n| habit | works | in | out | least gain with a work left out |\n|---|---|---|---|---|")
	for i, r := range rows {
		gain := r.in.without("") - r.out.without("")
		for w := range r.in {
			if len(r.in) > 1 {
				gain = min(gain, r.in.without(w)-r.out.without(w))
			}
		}
		figure, text, stands := realize.HabitWords(i)
		mark := ""
		switch {
		case stands != "":
			mark = " (" + stands + ")"
		case len(r.in) < fewestWorks || gain < -1e-9:
			mark = " **not admitted**"
			assert.Fail(t, "a habit that is not supported", "%d %s: %s", i, figure, text)
		}
		fmt.Printf("| %d %s: %s%s | %d | %.0f | %.0f | %+.0f |\n", i, figure, text, mark, len(r.in), 100*r.in.without(""), 100*r.out.without(""), 100*gain)
	}
	for _, kind := range []string{"grace", "trill-mark", "inverted-mordent", "mordent", "turn"} {
		fmt.Printf("%s: first choice %.1f %% in %d works\n", kind, 100*all[kind].without(""), len(all[kind]))
	}
}
