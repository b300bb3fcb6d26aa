package tap_test

import (
	"fmt"
	"math/rand"
	"slices"
	"sort"
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
	want := study(quarter, f, 4)
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
	return tap.Judge(want, taps(row), tap.Options{BeatMS: quarter, Words: p.words}), want
}

// rounds for each fault; with 31 faults more than 10,000 in all.
const roundsEach = 400

// The judge names the fault put in, before anything else, and leaves innocent
// rounds alone. The table is printed with -v.
func TestConfusion(t *testing.T) {
	assert.GreaterOrEqual(t, roundsEach*len(puts), 10_000)
	table := map[string]map[string]int{}
	for k, p := range puts {
		table[p.name] = map[string]int{}
		for n := range roundsEach {
			r, _ := simulate(int64(1000*k+n), p)
			told := "nothing"
			if len(r.Findings) > 0 {
				told = r.Findings[0].Code
			}
			table[p.name][told]++
		}
	}
	var report strings.Builder
	fmt.Fprintf(&report, "%d rounds\n", roundsEach*len(puts))
	for _, p := range puts {
		row := table[p.name]
		named := 0
		for code, n := range row {
			if slices.Contains(p.accept, code) {
				named += n
			}
		}
		share := float64(named) / roundsEach
		fmt.Fprintf(&report, "%-26s %5.1f %%  %s\n", p.name, 100*share, others(row))
		least := p.least
		if least == 0 {
			least = 0.85
		}
		assert.GreaterOrEqual(t, share, least, "%s: %s", p.name, others(row))
	}
	t.Log(report.String())
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
