package tap_test

import (
	"cmp"
	"math"
	"math/rand"
	"slices"
	"testing"

	"agremens/realize/perf"
	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// shortBeat keeps the offsets few: at most three quarters of it either way.
const shortBeat = 55.0

// offsetsOf returns the grid: steps of 20 ms up to three quarters of the beat.
func offsetsOf(beat float64) []float64 {
	var offsets []float64
	for o := -20 * math.Floor(0.75*beat/20); o <= 0.75*beat; o += 20 {
		offsets = append(offsets, o)
	}
	return offsets
}

// hold is what each match costs at an offset larger than leads are.
func hold(offset, beat float64) float64 {
	beyond := max(0, math.Abs(offset)-120) / beat
	return 1.6 * beyond * beyond
}

// bruteForce tries every order-preserving matching with every run of offsets.
// Its costs are written out anew from the aligner's documentation.
func bruteForce(ts []tap.Target, ss []tap.Source, beat float64) float64 {
	offsets := offsetsOf(beat)
	const none = -1
	var try func(i, j, state int) float64
	try = func(i, j, state int) float64 {
		if i == len(ts) && j == len(ss) {
			return 0
		}
		best := math.Inf(1)
		if i < len(ts) {
			best = min(best, ts[i].Miss+try(i+1, j, state))
		}
		if j < len(ss) {
			best = min(best, ss[j].Extra+try(i, j+1, state))
		}
		if i < len(ts) && j < len(ss) {
			for s, offset := range offsets {
				enter := 0.002 * math.Abs(offset)
				if state != none {
					enter = min(1.2, 0.005*math.Abs(offset-offsets[state]))
				}
				d := ss[j].At - ts[i].At - offset
				reach := ts[i].Late
				if d < 0 {
					reach = ts[i].Early
				}
				best = min(best, enter+hold(offset, beat)+2*d*d/reach/reach+try(i+1, j+1, s))
			}
		}
		return best
	}
	return try(0, 0, none)
}

// priceOf adds up what a matching costs at least, by trying every run of offsets for it.
func priceOf(matched []int, ts []tap.Target, ss []tap.Source, beat float64) float64 {
	offsets := offsetsOf(beat)
	used := map[int]bool{}
	cost := 0.0
	var chain func(i, state int) float64
	chain = func(i, state int) float64 {
		for i < len(ts) && matched[i] < 0 {
			i++
		}
		if i == len(ts) {
			return 0
		}
		best := math.Inf(1)
		for s, offset := range offsets {
			enter := 0.002 * math.Abs(offset)
			if state >= 0 {
				enter = min(1.2, 0.005*math.Abs(offset-offsets[state]))
			}
			d := ss[matched[i]].At - ts[i].At - offset
			reach := ts[i].Late
			if d < 0 {
				reach = ts[i].Early
			}
			best = min(best, enter+hold(offset, beat)+2*d*d/reach/reach+chain(i+1, s))
		}
		return best
	}
	for i, j := range matched {
		if j < 0 {
			cost += ts[i].Miss
		} else {
			used[j] = true
		}
	}
	for j := range ss {
		if !used[j] {
			cost += ss[j].Extra
		}
	}
	return cost + chain(0, -1)
}

func checkCheapest(t require.TestingT, ts []tap.Target, ss []tap.Source, beat float64) {
	slices.SortFunc(ts, func(a, b tap.Target) int { return cmp.Compare(a.At, b.At) })
	slices.SortFunc(ss, func(a, b tap.Source) int { return cmp.Compare(a.At, b.At) })
	matched, cost := tap.Align(ts, ss, beat)
	last := -1
	for _, j := range matched {
		if j >= 0 {
			require.Greater(t, j, last, "order kept: %v", matched)
			last = j
		}
	}
	require.InDelta(t, bruteForce(ts, ss, beat), cost, 1e-4, "%v\n%v", ts, ss)
	require.InDelta(t, priceOf(matched, ts, ss, beat), cost, 1e-4, "the matching %v costs what is said", matched)
}

func TestAlignmentIsTheCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom([]int{4, 3, 2, 1, 0})
		time := rapid.Float64Range(0, 900)
		reach := rapid.Float64Range(60, 500)
		part := rapid.SampledFrom([]float64{1, 0.35})
		var ts []tap.Target
		for range size.Draw(t, "targets") {
			ts = append(ts, tap.Target{
				At: time.Draw(t, "at"), Early: reach.Draw(t, "early"), Late: reach.Draw(t, "late"), Miss: part.Draw(t, "miss"),
			})
		}
		var ss []tap.Source
		for range size.Draw(t, "sources") {
			ss = append(ss, tap.Source{At: time.Draw(t, "tap"), Extra: part.Draw(t, "extra")})
		}
		checkCheapest(t, ts, ss, shortBeat)
	})
}

// The same on rows as hands play them: five notes, some left out, some added.
func TestAlignmentIsTheCheapestInPlay(t *testing.T) {
	random := rand.New(rand.NewSource(7))
	for range 400 {
		gap := 60 + 200*random.Float64()
		lead := 60 * random.NormFloat64()
		var ts []tap.Target
		var ss []tap.Source
		for k := range 5 {
			at := float64(k) * gap
			ts = append(ts, tap.Target{At: at, Early: gap, Late: gap, Miss: 1})
			if random.Float64() > 0.2 {
				ss = append(ss, tap.Source{At: at + lead + 0.15*gap*random.NormFloat64(), Extra: 1})
			}
		}
		if len(ss) < 5 && random.Float64() < 0.3 {
			ss = append(ss, tap.Source{At: 4 * gap * random.Float64(), Extra: 1})
		}
		checkCheapest(t, ts, ss, shortBeat)
	}
}

// The same with offsets far enough to be dear: three notes, tapped late or early as a whole.
func TestAlignmentIsTheCheapestFarOff(t *testing.T) {
	random := rand.New(rand.NewSource(8))
	for range 150 {
		gap := 80 + 150*random.Float64()
		off := 400 * (random.Float64() - 0.5)
		var ts []tap.Target
		var ss []tap.Source
		for k := range 3 {
			at := float64(k) * gap
			ts = append(ts, tap.Target{At: at, Early: gap, Late: gap, Miss: 1})
			ss = append(ss, tap.Source{At: at + off + 20*random.NormFloat64(), Extra: 1})
		}
		checkCheapest(t, ts, ss, 240)
	}
}

// No input makes the judge stumble, and every want and tap is accounted for.
func TestJudgeAccountsForEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := study(rapid.Float64Range(200, 2000).Draw(t, "quarter"),
			rapid.SampledFrom([]figure{shortTrill, longTrill, freeTrill, joinedTrill, dottedTurn, mordent, leaning}).Draw(t, "figure"),
			rapid.IntRange(0, 3).Draw(t, "bars"))
		n := rapid.IntRange(0, 60).Draw(t, "taps")
		var taps []tap.Tap
		for range n {
			taps = append(taps, tap.Tap{
				At:   rapid.Float64Range(-2000, 20000).Draw(t, "at"),
				Hand: perf.Hand(rapid.IntRange(0, 1).Draw(t, "hand")),
				Key:  rapid.IntRange(0, 127).Draw(t, "key"),
			})
		}
		r := tap.Judge(want, taps, tap.Options{})
		seenWant, seenTap := map[int]bool{}, map[int]bool{}
		hit, missed, extra := 0, 0, 0
		for _, m := range r.Marks {
			if m.Want >= 0 {
				if seenWant[m.Want] {
					t.Fatalf("want %d twice", m.Want)
				}
				seenWant[m.Want] = true
			}
			if m.Tap >= 0 {
				if seenTap[m.Tap] {
					t.Fatalf("tap %d twice", m.Tap)
				}
				seenTap[m.Tap] = true
			}
			switch {
			case m.Want >= 0 && m.Tap >= 0:
				hit++
				if want[m.Want].Hand != taps[m.Tap].Hand {
					t.Fatalf("hands mixed")
				}
				if math.Abs(taps[m.Tap].At-want[m.Want].At-m.ErrorMS) > 1e-9 {
					t.Fatalf("error %v of want %d and tap %d", m.ErrorMS, m.Want, m.Tap)
				}
			case m.Free:
			case m.Want >= 0:
				missed++
			default:
				extra++
			}
		}
		if hit != r.Hit || missed != r.Missed || extra != r.Extra || r.Wanted != hit+missed {
			t.Fatalf("counts: %+v", r)
		}
		if math.IsNaN(r.MeanMS) || math.IsNaN(r.SpreadMS) {
			t.Fatal("not a number")
		}
	})
}

func TestJudgeEmptyAndOdd(t *testing.T) {
	want := study(600, mordent, 2)
	cases := []struct {
		name                string
		want                []tap.Want
		taps                []tap.Tap
		hit, missed, extras int
	}{
		{"nothing at all", nil, nil, 0, 0, 0},
		{"no taps", want, nil, 0, len(want), 0},
		{"no wants", nil, []tap.Tap{{At: 5}, {At: 400}}, 0, 0, 2},
		{"times that are none", want[:1], []tap.Tap{{At: math.NaN()}, {At: math.Inf(1)}}, 0, 1, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := tap.Judge(c.want, c.taps, tap.Options{BeatMS: 600})
			assert.Equal(t, []int{c.hit, c.missed, c.extras}, []int{r.Hit, r.Missed, r.Extra})
			assert.False(t, r.Certain)
		})
	}
}

// A machine gun of taps must not eat the memory.
func TestJudgeBounded(t *testing.T) {
	want := study(600, longTrill, 100)
	var taps []tap.Tap
	for k := range 40000 {
		taps = append(taps, tap.Tap{At: 1000 + 4*float64(k)})
	}
	r := tap.Judge(want, taps, tap.Options{BeatMS: 600})
	assert.Greater(t, r.Extra, 10000)
}

func BenchmarkJudge2000(b *testing.B) {
	want := study(600, longTrill, 118)
	random := rand.New(rand.NewSource(1))
	taps := delayed(want, func(w tap.Want) (float64, bool) {
		return -30 + 20*random.NormFloat64(), random.Float64() > 0.03
	})
	b.ReportMetric(float64(len(want)), "onsets")
	for b.Loop() {
		tap.Judge(want, taps, tap.Options{BeatMS: 600})
	}
}
