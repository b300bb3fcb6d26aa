package tap_test

import (
	"fmt"
	"testing"

	"agremens/realize/perf"
	"agremens/realize/tap"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A machine that taps everything with one delay is heard exactly so, even
// where the notes of the ornament are closer together than the delay.
func TestConstantDelay(t *testing.T) {
	figures := map[string]figure{
		"short trill": shortTrill, "long trill": longTrill, "free trill": freeTrill,
		"joined trill": joinedTrill, "turn": dottedTurn, "mordent": mordent, "appoggiatura": leaning,
	}
	for name, f := range figures {
		for _, quarter := range []float64{480, 560, 640, 900, 2000} {
			for _, delay := range []float64{0, 40, -40, 80, -80} {
				t.Run(fmt.Sprintf("%s/%.0f/%+.0f", name, quarter, delay), func(t *testing.T) {
					want := study(quarter, f, 4)
					r := tap.Judge(want, exact(want, delay), tap.Options{BeatMS: quarter})
					struck := len(exact(want, 0))
					assert.Equal(t, struck, r.Wanted)
					assert.Equal(t, struck, r.Hit)
					assert.Zero(t, r.Missed)
					assert.Zero(t, r.Extra)
					assert.InDelta(t, delay, r.MeanMS, 0.01)
					assert.InDelta(t, 0, r.SpreadMS, 0.01)
					for _, m := range r.Marks {
						require.GreaterOrEqual(t, m.Want, 0)
						require.GreaterOrEqual(t, m.Tap, 0)
						require.InDelta(t, delay, m.ErrorMS, 0.01)
					}
					for _, f := range r.Findings {
						assert.False(t, f.Fault, f.Code)
					}
					assert.True(t, r.Clean)
				})
			}
		}
	}
}

func TestOneHandOnly(t *testing.T) {
	want := hand(study(600, longTrill, 4), perf.Right)
	for _, delay := range []float64{0, 40, -40, 80, -80} {
		r := tap.Judge(want, exact(want, delay), tap.Options{BeatMS: 600})
		assert.Equal(t, len(want), r.Hit)
		assert.InDelta(t, delay, r.MeanMS, 0.01)
	}
}

// The cases J1 to J12 of the reference's list of judge cases.
func TestJudgeCases(t *testing.T) {
	const quarter = 60000. / 72
	first := func(w tap.Want) bool { return w.Ornament != "" }
	cases := []struct {
		name   string
		figure figure
		by     func(w tap.Want) (float64, bool)
		want   string // code of the first finding
		ms     float64
		within float64
	}{
		{"J1 plain -25, trills +85: late by 110", longTrill, func(w tap.Want) (float64, bool) {
			if first(w) {
				return 85, true
			}
			return -25, true
		}, tap.CodeLateStart, 110, 1},
		{"J2 grace notes before the beat", shortTrill, func(w tap.Want) (float64, bool) {
			if first(w) {
				return -3. / 8 * quarter, true
			}
			return 0, true
		}, tap.CodeBeforeBeat, 0, 0},
		{"J3 all -30: lead, no fault", longTrill, func(w tap.Want) (float64, bool) { return -30, true },
			tap.CodeClean, 0, 0},
		{"J4 turn as two quick and a slow", dottedTurn, func(w tap.Want) (float64, bool) {
			// 1/12 1/12 1/6 of a half instead of three thirds of a third.
			return map[int]float64{2: -1. / 24, 3: -1. / 12}[w.Index] * quarter * b2f(first(w)), true
		}, tap.CodeTurnTwoQuick, 0, 0},
		{"J5 two beats after at 106 %", shortTrill, func(w tap.Want) (float64, bool) {
			bar := w.Onset.Mod(q(4, 1)).Float()
			if bar == 0 && w.Onset.Sign() > 0 {
				bar = 4
			}
			return -max(0, bar-2) * quarter * (1 - 1/1.06), true
		}, tap.CodeRushesAfter, 0, 0},
		{"J6 left hand +18 % under the ornament", longTrill, func(w tap.Want) (float64, bool) {
			switch bar := w.Onset.Mod(q(4, 1)).Float(); {
			case bar > 1 && bar < 2:
				return 0.18 * (bar - 1) * quarter, true
			case bar == 2:
				return 0.18 * quarter, true
			case bar > 2:
				// The player finds back within the beat.
				return max(0, 0.18*(1-(bar-2))) * quarter, true
			}
			return 0, true
		}, tap.CodeHandWaits, 0, 0},
		{"J7 upper/main 0.7: limps", longTrill, func(w tap.Want) (float64, bool) {
			if first(w) && w.Index%2 == 1 {
				// A pair of 0.7 : 1 in the time of two.
				return (2*0.7/1.7 - 1) * quarter / 8, true
			}
			return 0, true
		}, tap.CodeLimps, 0, 0},
		{"J9 tied start", joinedTrill, func(w tap.Want) (float64, bool) { return 0, true }, tap.CodeClean, 0, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			want := study(quarter, c.figure, 4)
			r := tap.Judge(want, delayed(want, c.by), tap.Options{BeatMS: quarter})
			require.NotEmpty(t, r.Findings)
			assert.Equal(t, c.want, r.Findings[0].Code, "%v\n%s", codes(r), r.Summary)
			assert.Zero(t, r.Missed)
			assert.Zero(t, r.Extra)
			if c.within > 0 {
				assert.InDelta(t, c.ms, r.Findings[0].MS, c.within)
			}
			assert.NotEmpty(t, r.Summary)
			assert.NotEmpty(t, r.Next)
			t.Log(r.Summary, "Next:", r.Next, codes(r))
		})
	}
}

// A player without help keeps a tempo of their own, and ends beats away.
func TestOwnTempo(t *testing.T) {
	want := study(600, mordent, 16)
	for _, by := range []float64{-0.06, -0.03, 0.03, 0.06} {
		r := tap.Judge(want, delayed(want, func(w tap.Want) (float64, bool) { return by * (w.At - 1000), true }),
			tap.Options{BeatMS: 600})
		assert.Zero(t, r.Missed, "%v", by)
		assert.Zero(t, r.Extra, "%v", by)
		assert.Equal(t, tap.CodeDrift, r.Findings[0].Code)
		assert.InDelta(t, 100*by, r.Findings[0].Percent, 0.1)
		// A tempo is fast or slow; early and late are notes.
		assert.Regexp(t, map[bool]string{true: `\d % too fast\.$`, false: `\d % too slow\.$`}[by < 0], r.Findings[0].Teacher)
	}
}

// Which note of a trill falls on the beat depends on where it starts; what must
// be in time is the note after it.
func TestCountOfNotesIsToldByTheNextBeat(t *testing.T) {
	w := tap.English()
	for _, code := range []string{tap.CodeFewerNotes, tap.CodeMoreNotes, tap.CodeCount} {
		said := w.Findings[code].Child + w.Findings[code].Next
		assert.NotContains(t, said, "last one on the beat")
		assert.Contains(t, w.Findings[code].Child, "next beat is in time")
	}
}

// J8: fewer notes than planned in a free trill that lands within 40 ms are no fault.
func TestFreeTrillCount(t *testing.T) {
	const quarter = 60000. / 72
	want := study(quarter, freeTrill, 4)
	var taps []tap.Tap
	for _, x := range want {
		switch {
		case x.Ornament == "":
			taps = append(taps, tap.Tap{At: x.At, Hand: x.Hand})
		case x.Index == 0:
			for k := range 6 {
				taps = append(taps, tap.Tap{At: x.At + float64(k)*quarter/6, Hand: x.Hand})
			}
		}
	}
	r := tap.Judge(want, taps, tap.Options{BeatMS: quarter})
	assert.Equal(t, []string{tap.CodeClean, tap.CodeCount}, codes(r))
	assert.Zero(t, r.Missed)
	assert.Zero(t, r.Extra)
	assert.True(t, r.Clean)
	for _, o := range r.Ornaments {
		assert.Equal(t, 6, o.Tapped)
		assert.InDelta(t, 6000/quarter, o.Rate.V, 0.01)
	}
	assert.Contains(t, r.Findings[1].Child, "You played 6 notes; 8 were planned.")
}

// J10: three ornaments and nothing else leave the lead unknown.
func TestTooFewToSay(t *testing.T) {
	w := newWriter(800)
	for k := range 3 {
		w.ornament(perf.Right, fmt.Sprint("o", k), mordent)
	}
	r := tap.Judge(w.want, exact(w.want, 90), tap.Options{BeatMS: 800})
	require.NotEmpty(t, r.Findings)
	assert.Equal(t, tap.CodeFewPlain, r.Findings[0].Code)
	assert.Contains(t, r.Summary, "Too few plain notes around each mordent", "nine of nine were tapped")
	assert.NotContains(t, codes(r), tap.CodeClean)
	assert.NotContains(t, codes(r), tap.CodeLateStart)
	assert.False(t, r.Certain)
	assert.False(t, r.Lead.Known())

	lead := 0.0
	r = tap.Judge(w.want, exact(w.want, 90), tap.Options{BeatMS: 800, Lead: &lead})
	assert.Contains(t, codes(r), tap.CodeLateStart, "a calibrated lead tells late from lead")
}

// J11: where the bars end on the ornament, the first note after them is the landing.
func TestLandingAfterTheBars(t *testing.T) {
	w := newWriter(800).plain(perf.Right, 7, q(1, 1)).ornament(perf.Right, "o1", longTrill)
	without := tap.Judge(w.want, exact(w.want, 0), tap.Options{BeatMS: 800})
	assert.False(t, without.Ornaments[0].Landing.Known, "nothing to land on")

	w.plain(perf.Right, 1, q(1, 1))
	last := len(w.want) - 1
	assert.True(t, w.want[last].Landing)
	r := tap.Judge(w.want, delayed(w.want, func(x tap.Want) (float64, bool) {
		return 120 * b2f(x.Landing), true
	}), tap.Options{BeatMS: 800})
	assert.True(t, r.Ornaments[0].Landing.Known)
	assert.InDelta(t, 120, r.Ornaments[0].Landing.V, 0.01)
	assert.Equal(t, tap.CodeBump, r.Findings[0].Code)
}

// J12: out of a fermata no landing is judged.
func TestFermata(t *testing.T) {
	w := newWriter(800).plain(perf.Right, 8, q(1, 1)).ornament(perf.Right, "o1", longTrill).plain(perf.Right, 4, q(1, 1))
	for i := range w.want {
		w.want[i].Fermata = w.want[i].Ornament != ""
	}
	r := tap.Judge(w.want, delayed(w.want, func(x tap.Want) (float64, bool) {
		return 300 * b2f(x.Landing), true
	}), tap.Options{BeatMS: 800})
	assert.False(t, r.Ornaments[0].Landing.Known)
	assert.Equal(t, tap.CodeClean, r.Findings[0].Code, codes(r))
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
