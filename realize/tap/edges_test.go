package tap_test

import (
	"math"
	"slices"
	"testing"

	"agremens/realize/perf"
	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// row is n plain notes of the right hand on beats half a second apart.
func row(n int) []tap.Want {
	var want []tap.Want
	for i := range n {
		want = append(want, tap.Want{At: 1000 + 500*float64(i), Onset: q(int64(i), 1), Measured: true, Beat: true, Count: 1})
	}
	return want
}

func has(r tap.Result, code string) bool { return slices.Contains(codes(r), code) }

// Six hits are the least that is spoken of.
func TestHowManyHitsAreSpokenOf(t *testing.T) {
	for n, certain := range map[int]bool{5: false, 6: true} {
		want := row(n)
		r := tap.Judge(want, exact(want, 0), tap.Options{BeatMS: 500})
		assert.Equal(t, certain, r.Certain, "%d hits", n)
		assert.Equal(t, !certain, has(r, tap.CodeTooFew), "%d hits", n)
		assert.Equal(t, certain, has(r, tap.CodeClean), "%d hits", n)
		assert.Equal(t, !certain, tap.OutcomeOf(r).Void, "%d hits", n)
	}
}

// Six plain notes teach a lead; with fewer the calibrated one stands, where
// there is a finite one. An ornament's notes never teach it.
func TestWhatTeachesALead(t *testing.T) {
	known, none := -70.0, math.Inf(1)
	for _, tt := range []struct {
		name       string
		n          int
		calibrated *float64
		from       string
		ms         float64
	}{
		{"six notes", 6, nil, "plain", 30},
		{"six notes come before a calibration", 6, &known, "plain", 30},
		{"five", 5, nil, "", 0},
		{"five and a calibration", 5, &known, "calibration", -70},
		{"five and a calibration that is no number", 5, &none, "", 0},
	} {
		want := row(tt.n)
		r := tap.Judge(want, exact(want, 30), tap.Options{BeatMS: 500, Lead: tt.calibrated})
		assert.Equal(t, tt.from, r.Lead.From, tt.name)
		assert.InDelta(t, tt.ms, r.Lead.MS, 1e-6, tt.name)
		assert.Equal(t, tt.from != "", r.Lead.Known(), tt.name)
		assert.Equal(t, tt.n, r.Lead.N, tt.name)
	}
	for _, not := range []func(*tap.Want){
		func(w *tap.Want) { w.Ornament = "o1" }, func(w *tap.Want) { w.Landing = true }, func(w *tap.Want) { w.Fermata = true },
	} {
		want := row(6)
		not(&want[5])
		assert.False(t, tap.Judge(want, exact(want, 30), tap.Options{BeatMS: 500}).Lead.Known())
	}
}

// Nobody is trusted to be steadier than what can be heard, 6 ms (Friberg and
// Sundberg 1995): the error of a lead never vanishes, and falls with the root
// of the notes.
func TestErrorOfALead(t *testing.T) {
	for _, n := range []int{6, 24} {
		want := row(n)
		r := tap.Judge(want, exact(want, 30), tap.Options{BeatMS: 500})
		assert.InDelta(t, 1.1*6/math.Sqrt(float64(n)), r.Lead.SE, 1e-6)
	}
}

// A lead is told from 10 ms on; beyond 100 ms late it is no lead but waiting
// for each beat to be heard.
func TestWhenALeadIsTold(t *testing.T) {
	for _, tt := range []struct {
		ms   float64
		code string
	}{{9, ""}, {-9, ""}, {11, tap.CodeLead}, {-11, tap.CodeLead}, {99, tap.CodeLead}, {101, tap.CodeReacting}, {-101, tap.CodeLead}} {
		want := row(12)
		r := tap.Judge(want, exact(want, tt.ms), tap.Options{BeatMS: 500})
		for _, code := range []string{tap.CodeLead, tap.CodeReacting} {
			assert.Equal(t, code == tt.code, has(r, code), "%v ms, %s", tt.ms, code)
		}
	}
}

// A tempo 2 % off is a drift, less is not; and it must move the taps by 60 ms
// over the round before it is believed.
func TestWhenTheBeatDrifts(t *testing.T) {
	for _, tt := range []struct {
		name  string
		n     int
		share float64
		drift bool
	}{
		{"2.2 % slower", 24, .022, true}, {"2.2 % quicker", 24, -.022, true},
		{"1.8 % slower", 24, .018, false}, {"1.8 % quicker", 24, -.018, false},
		{"2.2 % slower for four seconds: 77 ms", 8, .022, true},
		{"2.2 % slower in seven notes", 7, .022, false},
	} {
		want := row(tt.n)
		taps := delayed(want, func(w tap.Want) (float64, bool) { return tt.share * (w.At - 1000), true })
		r := tap.Judge(want, taps, tap.Options{BeatMS: 500})
		assert.Equal(t, tt.drift, has(r, tap.CodeDrift), tt.name)
		if tt.drift {
			assert.InDelta(t, 1000*tt.share, r.Lead.Drift, 0.5, tt.name)
		}
	}
}

// A switch bounces within 12 ms and a chord's keys come down within 50: taps
// that near belong to one stroke. Others are extra.
func TestWhatBelongsToAStroke(t *testing.T) {
	for _, tt := range []struct {
		name   string
		after  float64
		voices int
		extra  int
	}{
		{"a bounce", 11, 1, 0}, {"no bounce", 14, 1, 1},
		{"the second key of a chord", 49, 2, 0}, {"too late for it", 52, 2, 1},
		{"a bounce before", -11, 1, 0},
	} {
		want := row(8)
		if tt.voices == 2 {
			second := want[4]
			second.Key = 0
			want = slices.Insert(want, 5, second)
		}
		taps := exact(row(8), 0)
		taps = append(taps, tap.Tap{At: want[4].At + tt.after})
		slices.SortFunc(taps, func(a, b tap.Tap) int { return int(a.At - b.At) })
		r := tap.Judge(want, taps, tap.Options{BeatMS: 500})
		assert.Equal(t, 8, r.Hit, tt.name)
		assert.Equal(t, tt.extra, r.Extra, tt.name)
		assert.Zero(t, r.Missed, tt.name)
	}
}

// Notes of one hand within 5 ms are one onset, as two voices are; further
// apart they are two.
func TestWhatIsOneOnset(t *testing.T) {
	for apart, wanted := range map[float64]int{4: 8, 5: 8, 6: 9} {
		want := row(8)
		second := want[4]
		second.At += apart
		want = slices.Insert(want, 5, second)
		r := tap.Judge(want, exact(want, 0), tap.Options{BeatMS: 500})
		assert.Equal(t, wanted, r.Wanted, "%v ms", apart)
	}
}

// A note that one hand misses and the other taps within 120 ms was tapped by
// the wrong hand: neither missed nor extra is told then.
func TestWrongHands(t *testing.T) {
	for _, tt := range []struct {
		late  float64
		wrong bool
	}{{0, true}, {110, true}, {-110, true}, {135, false}} {
		want := row(12)
		for i := range 12 {
			w := want[i]
			w.Hand = perf.Left
			if i%2 == 0 {
				want = append(want, w)
			}
		}
		taps := delayed(want, func(w tap.Want) (float64, bool) { return 0, w.Hand == perf.Left || w.At != 1000+500*5 })
		taps = append(taps, tap.Tap{At: 1000 + 500*5 + tt.late, Hand: perf.Left})
		slices.SortFunc(taps, func(a, b tap.Tap) int { return int(a.At - b.At) })
		r := tap.Judge(want, taps, tap.Options{BeatMS: 500})
		assert.Equal(t, tt.wrong, has(r, tap.CodeWrongHand), "%v ms", tt.late)
		assert.Equal(t, !tt.wrong, has(r, tap.CodeMissed) || has(r, tap.CodeExtra), "%v ms", tt.late)
		assert.Equal(t, 1, r.Missed)
		assert.Equal(t, 1, r.Extra)
	}
}

// Hands that stand apart on plain notes are told from 40 ms on, where six or
// more notes show it; each hand is heard with its own lead.
func TestHandsApart(t *testing.T) {
	for _, tt := range []struct {
		n     int
		apart float64
		told  bool
	}{{8, 42, true}, {8, -42, true}, {8, 38, false}, {6, 42, true}, {5, 42, false}} {
		want := row(tt.n)
		for _, w := range row(tt.n) {
			w.Hand = perf.Left
			want = append(want, w)
		}
		taps := delayed(want, func(w tap.Want) (float64, bool) {
			if w.Hand == perf.Right {
				return tt.apart, true
			}
			return 0, true
		})
		r := tap.Judge(want, taps, tap.Options{BeatMS: 500})
		assert.Equal(t, tt.told, has(r, tap.CodeHandsApart), "%+v", tt)
		assert.Equal(t, tt.n, r.Together.N)
		assert.InDelta(t, tt.apart, r.Together.MeanMS, 1e-6, "right after left")
		assert.InDelta(t, 0, r.Together.SpreadMS, 1e-6)
	}
}

// Keys that changed places are told as that, and only as that.
func TestSwappedKeys(t *testing.T) {
	for _, tt := range []struct {
		name           string
		played         [2]int // for the keys 60 and 62
		other, swapped bool
	}{
		{"as written", [2]int{60, 62}, false, false},
		{"changed places", [2]int{62, 60}, false, true},
		{"another key", [2]int{60, 64}, true, false},
		{"the same twice", [2]int{60, 60}, true, false},
		{"one not known", [2]int{0, 60}, true, false},
	} {
		want := row(8)
		for i := range want {
			want[i].Key = 60 + 2*(i%2)
		}
		taps := exact(want, 0)
		for i := range taps {
			taps[i].Key = want[i].Key
		}
		taps[2].Key, taps[3].Key = tt.played[0], tt.played[1]
		r := tap.Judge(want, taps, tap.Options{BeatMS: 500})
		assert.Equal(t, tt.other, has(r, tap.CodeOtherKeys), tt.name)
		assert.Equal(t, tt.swapped, has(r, tap.CodeSwapped), tt.name)
	}
}

// One note in ten may be missed or extra in a clean round.
func TestHowManySlipsAreClean(t *testing.T) {
	for _, tt := range []struct {
		n, missed, extra int
		clean            bool
	}{{20, 2, 0, true}, {20, 3, 0, false}, {20, 0, 2, true}, {20, 0, 3, false}, {20, 1, 1, true}, {20, 2, 1, false}, {9, 1, 0, false}, {10, 1, 0, true}} {
		want := row(tt.n)
		var taps []tap.Tap
		for i, w := range want {
			if i >= 2 && i < 2+tt.missed {
				continue
			}
			taps = append(taps, tap.Tap{At: w.At})
			if i >= 6 && i < 6+tt.extra {
				taps = append(taps, tap.Tap{At: w.At + 200})
			}
		}
		r := tap.Judge(want, taps, tap.Options{BeatMS: 500})
		require.Equal(t, tt.missed, r.Missed, "%+v", tt)
		require.Equal(t, tt.extra, r.Extra, "%+v", tt)
		assert.Equal(t, tt.clean, r.Clean, "%+v", tt)
	}
	assert.False(t, tap.Judge(nil, nil, tap.Options{}).Clean, "nothing is not clean")
}

// Nothing is judged in a stretch in which the clock was not to be trusted, its
// ends included, and the round is not certain then.
func TestEndsOfAGap(t *testing.T) {
	want := row(12)
	for _, tt := range []struct {
		gap    tap.Span
		wanted int
	}{
		{tap.Span{From: 2500, To: 2500}, 11}, {tap.Span{From: 2501, To: 2600}, 12}, {tap.Span{From: 2400, To: 2499}, 12}, {tap.Span{From: 2500, To: 3500}, 9},
	} {
		r := tap.Judge(want, exact(want, 0), tap.Options{BeatMS: 500, Gaps: []tap.Span{tt.gap}})
		assert.Equal(t, tt.wanted, r.Wanted, "%+v", tt.gap)
		assert.Zero(t, r.Missed+r.Extra)
		assert.False(t, r.Certain)
		assert.True(t, tap.OutcomeOf(r).Void)
	}
}

// The rules of a climb at their edges: 12 % up until the first round that is
// not clean, then 3 % up and four times that down; a pause after three rounds
// that are not clean, or after twenty of any.
func TestStepsOfAClimb(t *testing.T) {
	clean, unclean := tap.Outcome{Clean: true}, tap.Outcome{}
	c := tap.NewClimb(80, 200).Next(clean)
	assert.InDelta(t, 80*math.Exp(.12), c.Tempo, 1e-9)
	down := c.Next(unclean)
	assert.InDelta(t, 80, down.Tempo, 1e-9)
	assert.InDelta(t, 80*math.Exp(.03), down.Next(clean).Tempo, 1e-9)
	assert.Equal(t, 60.0, tap.NewClimb(0, 200).Tempo, "a start that is none is the slowest")
	assert.Equal(t, 60.0, tap.NewClimb(math.NaN(), 200).Tempo)
	assert.Panics(t, func() { tap.NewClimb(50, 0) })
	assert.Panics(t, func() { tap.NewClimb(50, math.Inf(1)) })

	c = tap.NewClimb(200, 200)
	for range 5 { // by turns: no two clean in a row
		c = c.Next(clean)
		assert.Equal(t, 1, c.Clean)
		c = c.Next(unclean)
		assert.Zero(t, c.Clean)
		for c.Tempo < c.Goal {
			c = c.Next(clean)
		}
		assert.NotEqual(t, tap.Arrived, c.State)
		assert.Zero(t, c.Clean, "only rounds at the goal count")
		if c.State == tap.Pause {
			assert.Equal(t, tap.PauseLong, c.Why)
			assert.Zero(t, c.Round%20)
		}
	}
	c = tap.NewClimb(200, 200)
	for i := 1; i <= 40; i++ {
		out := unclean
		if i%2 == 0 {
			out = clean
		}
		c = c.Next(out)
		if i%20 == 0 {
			assert.Equal(t, tap.Pause, c.State, "round %d", i)
			assert.Equal(t, tap.PauseLong, c.Why)
		} else {
			assert.Equal(t, tap.Climbing, c.State, "round %d", i)
			assert.Empty(t, c.Why)
		}
	}
	arrived := tap.NewClimb(100, 100).Next(clean).Next(clean)
	assert.Equal(t, arrived, arrived.Next(unclean), "who has arrived stays")
}

// Below 90 beats a minute a click between them helps.
func TestWhenBeatsAreDivided(t *testing.T) {
	assert.True(t, tap.NewClimb(89.9, 200).Subdivided())
	assert.False(t, tap.NewClimb(90, 200).Subdivided())
}

// Tired: three rounds each a tenth less even than the one before, and the last
// half as much again as the three before them.
func TestTired(t *testing.T) {
	for _, tt := range []struct {
		name   string
		uneven []float64
		tired  bool
	}{
		{"as said", []float64{.10, .10, .10, .13, .145, .161}, true},
		{"the last a little under half as much again", []float64{.10, .10, .10, .12, .134, .149}, false},
		{"the second less than a tenth more", []float64{.10, .10, .10, .15, .163, .19}, false},
		{"the third less than a tenth more", []float64{.10, .10, .10, .15, .17, .185}, false},
		{"five rounds are too few", []float64{.10, .10, .13, .15, .19}, false},
		{"long ago does not count", []float64{.9, .9, .9, .10, .10, .10, .13, .145, .161}, true},
	} {
		assert.Equal(t, tt.tired, tap.Tired(tt.uneven), tt.name)
	}
}

// even are n taps so many ms apart.
func evenly(from float64, n int, apart float64) []float64 {
	var taps []float64
	for i := range n {
		taps = append(taps, from+apart*float64(i))
	}
	return taps
}

// A burst is over after three seconds, or when its last five intervals are
// 15 % longer than the usual one before, of which there must be as many.
func TestWhenABurstIsOver(t *testing.T) {
	slow := func(before int, apart float64) []float64 {
		taps := evenly(0, before+1, 100)
		return append(taps, evenly(taps[before]+apart, 5, apart)...)
	}
	for _, tt := range []struct {
		name string
		taps []float64
		over bool
	}{
		{"nothing yet", nil, false}, {"one", []float64{5}, false},
		{"just under three seconds", evenly(7, 30, 103), false}, {"three seconds", evenly(7, 31, 100), true},
		{"five slow ones", slow(5, 116), true}, {"not so slow", slow(5, 114), false}, {"too few before", slow(4, 150), false},
	} {
		assert.Equal(t, tt.over, tap.BurstOver(tt.taps), tt.name)
	}
	assert.Equal(t, 2, tap.Bursts(true))
	assert.Equal(t, 3, tap.Bursts(false))
}

// Six taps make a burst; two bursts that agree within a tenth are certain; and
// twenty a second is faster than any hand.
func TestEdgesOfARate(t *testing.T) {
	for _, tt := range []struct {
		name    string
		bursts  [][]float64
		rate    float64
		n       int
		certain bool
	}{
		{"six taps", [][]float64{evenly(0, 6, 100)}, 10, 1, false},
		{"five taps", [][]float64{evenly(0, 5, 100)}, 0, 0, false},
		{"two alike", [][]float64{evenly(0, 6, 100), evenly(0, 6, 109)}, (10 + 1000.0/109) / 2, 2, true},
		{"two more than a tenth apart", [][]float64{evenly(0, 6, 100), evenly(0, 6, 111)}, (10 + 1000.0/111) / 2, 2, false},
		{"twenty a second", [][]float64{evenly(0, 8, 50)}, 20, 1, false},
		{"faster: every other one is a bounce", [][]float64{evenly(0, 16, 49)}, 1000.0 / 98, 1, false},
	} {
		r := tap.RateOf(tt.bursts, false)
		assert.InDelta(t, tt.rate, r.PerSecond, 1e-9, tt.name)
		assert.Len(t, r.Bursts, tt.n, tt.name)
		assert.Equal(t, tt.certain, r.Certain, tt.name)
	}
}

// Four values a side are the least that tells a change.
func TestHowManyValuesTellAChange(t *testing.T) {
	for n, want := range map[int]tap.Verdict{3: tap.TooFew, 4: tap.Better} {
		assert.Equal(t, want, tap.CompareTempo(slices.Repeat([]float64{1}, n), slices.Repeat([]float64{2}, n)).Verdict)
		assert.Equal(t, want, tap.CompareTempo(slices.Repeat([]float64{1}, 9), slices.Repeat([]float64{2}, n)).Verdict)
	}
	c := tap.CompareUneven([]float64{1, 1, 3, 3}, []float64{2, 2, 2, 2})
	assert.Equal(t, tap.NoClear, c.Verdict)
	assert.Equal(t, 2.0, c.Before)
	assert.InDelta(t, math.Sqrt(4.0/3/4), c.SE, 1e-9)
	assert.Equal(t, tap.Change{Verdict: tap.TooFew}, tap.CompareTempo(nil, nil))
	clean := tap.CompareClean(1, 4, 3, 4)
	assert.InDelta(t, 2.0/6, clean.Before, 1e-9)
	assert.InDelta(t, 4.0/6, clean.After, 1e-9)
	assert.InDelta(t, math.Sqrt(2*(2.0/6)*(4.0/6)/6), clean.SE, 1e-9)
}

// Where nobody tells the beat it is the usual distance of notes on beats, and
// 600 ms where there are none.
func TestTheBeatIsWorkedOut(t *testing.T) {
	want := study(700, shortTrill, 4)
	taps := exact(want, 30)
	assert.Equal(t, tap.Judge(want, taps, tap.Options{BeatMS: 700}), tap.Judge(want, taps, tap.Options{}))
	assert.Equal(t, tap.Judge(want, taps, tap.Options{BeatMS: 700}), tap.Judge(want, taps, tap.Options{BeatMS: math.NaN()}))
	for i := range want {
		want[i].Beat = false
	}
	assert.Equal(t, tap.Judge(want, taps, tap.Options{BeatMS: 600}), tap.Judge(want, taps, tap.Options{}))
}

// An ornament's own limits: it starts and lands within 40 ms, or 5 % of a slow
// beat, and is told from there on.
func TestStartsAndLandings(t *testing.T) {
	for _, tt := range []struct {
		quarter, start float64
		clean          bool
	}{{500, 38, true}, {500, 44, false}, {500, -38, true}, {500, -44, false}, {1200, 56, true}, {1200, 64, false}} {
		want := study(tt.quarter, shortTrill, 4)
		taps := delayed(want, func(w tap.Want) (float64, bool) {
			if w.Ornament != "" {
				return tt.start, true
			}
			return 0, true
		})
		r := tap.Judge(want, taps, tap.Options{BeatMS: tt.quarter})
		assert.Equal(t, tt.clean, r.Ornaments[0].Clean, "%+v", tt)
		assert.InDelta(t, tt.start, r.Ornaments[0].Start.V, 2, "%+v", tt)
		assert.InDelta(t, 0, r.Ornaments[0].Landing.V, 2, "%+v", tt)
		assert.Equal(t, 4, r.Ornaments[0].Tapped)
	}
}
