package tap_test

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"

	"agremens/realize/perf"
	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
)

// simulate plays one round with a fault in it and returns what is told of it.
func simulate(seed int64, p put) (tap.Result, []tap.Want) {
	r := rand.New(rand.NewSource(seed))
	quarter := 600 + 500*r.Float64()
	f := p.figures[r.Intn(len(p.figures))]
	want := study(quarter, f, bars)
	for i := range want {
		if p.keys {
			want[i].Key = 72 + want[i].Degree + 3*int(want[i].Onset.Num()%4)
		}
	}
	if !p.both && r.Intn(2) == 0 {
		want = hand(want, perf.Right)
	}
	row := p.player(r).play(r, want, quarter)
	if p.spoil != nil {
		row = p.spoil(r, row, quarter)
	}
	o := tap.Options{BeatMS: quarter, Words: p.words}
	switch from, to := want[0].At, want[len(want)-1].At; {
	case p.gap > 0:
		at := from + r.Float64()*(to-from)
		o.Gaps = []tap.Span{{From: at - p.gap - 60, To: at + 60}}
	case p.gap < 0:
		o.Gaps = []tap.Span{{From: from + p.gap - 100, To: from + p.gap}}
	}
	return tap.Judge(want, taps(row), o), want
}

// What is simulated: AGREMENS_ROUNDS rounds of each kind of student, on
// AGREMENS_BARS bars with an ornament in each; the built-in passages have eight.
var roundsEach, bars = setting("AGREMENS_ROUNDS", 60), setting("AGREMENS_BARS", 8)

func setting(name string, usual int) int {
	if n, err := strconv.Atoi(os.Getenv(name)); err == nil && n > 0 {
		return n
	}
	return usual
}

// The judge names the fault put in, before anything else, leaves innocent
// rounds alone, and calls no round clean that has a fault in it. With -v each
// kind's line is printed; the whole table is
//
//	AGREMENS_ROUNDS=10000 go test -run Confusion -v ./realize/tap
func TestConfusion(t *testing.T) {
	for k, p := range puts {
		t.Run(p.name, func(t *testing.T) {
			row := map[string]int{}
			named, blamed, clean := 0, 0, 0
			for n := range roundsEach {
				r, _ := simulate(int64(1_000_000*k+n), p)
				told := "nothing"
				if len(r.Findings) > 0 {
					told = r.Findings[0].Code
				}
				row[told]++
				if slices.Contains(p.accept, told) {
					named++
				}
				if slices.ContainsFunc(r.Findings, func(f tap.Finding) bool { return f.Fault }) {
					blamed++
				}
				if r.Clean {
					clean++
				}
			}
			share := func(n int) float64 { return float64(n) / float64(roundsEach) }
			// Few rounds show a share badly: three standard errors are allowed.
			chance := func(of float64) float64 { return 3 * math.Sqrt(of*(1-of)/float64(roundsEach)) }
			t.Logf("%-30s right %6.2f %%  blamed %6.2f %%  clean %3.0f %%  %s",
				p.name, 100*share(named), 100*share(blamed), 100*share(clean), others(row))
			if bars < 8 {
				return
			}
			const least = 0.95
			assert.GreaterOrEqual(t, share(named), least-chance(least), "named: %s", others(row))
			if p.innocent > 0 {
				assert.LessOrEqual(t, share(blamed), p.innocent+chance(p.innocent), "blamed: %s", others(row))
			}
			assert.GreaterOrEqual(t, share(clean), p.clean-chance(p.clean), "clean")
			if p.clean == 0 {
				assert.LessOrEqual(t, share(clean), 0.03+chance(0.03), "clean")
			}
		})
	}
}

func others(row map[string]int) string {
	codes := make([]string, 0, len(row))
	for c := range row {
		codes = append(codes, c)
	}
	sort.Slice(codes, func(i, j int) bool {
		return row[codes[i]] > row[codes[j]] || row[codes[i]] == row[codes[j]] && codes[i] < codes[j]
	})
	var out []string
	for _, c := range codes {
		out = append(out, fmt.Sprintf("%s %d", c, row[c]))
	}
	return strings.Join(out, ", ")
}
