package tap_test

import (
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/tap"
)

// figure is an ornament as the realizer would hand it over: degrees and
// lengths in quarters, in place of a principal.
type figure struct {
	name    string
	degrees []int
	durs    []music.Frac
	free    bool
	tied    bool // its first note is held over
}

func even(n int, d music.Frac) []music.Frac {
	durs := make([]music.Frac, n)
	for i := range durs {
		durs[i] = d
	}
	return durs
}

func q(n, d int64) music.Frac { return music.F(n, d) }

// Figures after reference rows; lengths in quarters.
var (
	// A +1,0,+1,0 short trill, 1/8 1/8 1/8 5/8 of a quarter (case V3a).
	shortTrill = figure{name: "trill", degrees: []int{1, 0, 1, 0}, durs: []music.Frac{q(1, 8), q(1, 8), q(1, 8), q(5, 8)}}
	// Eight thirty-seconds with an ending, filling a quarter (common practice).
	longTrill = figure{name: "trill", degrees: []int{1, 0, 1, 0, 1, 0, -1, 0}, durs: even(8, q(1, 8))}
	// The same as a free trill.
	freeTrill = figure{name: "trill", degrees: []int{1, 0, 1, 0, 1, 0, -1, 0}, durs: even(8, q(1, 8)), free: true}
	// Eight sixteenths in a half, joined from the note before (case V1).
	joinedTrill = figure{name: "trill", degrees: []int{1, 0, 1, 0, 1, 0, -1, 0}, durs: even(8, q(1, 4)), tied: true}
	// Turn on a dotted eighth against triplets (case V10), and the rest of the
	// beat: main, three quick notes, main.
	dottedTurn = figure{name: "turn", degrees: []int{0, 1, 0, -1, 0}, durs: []music.Frac{q(1, 2), q(1, 6), q(1, 6), q(1, 6), q(1, 2)}}
	mordent    = figure{name: "mordent", degrees: []int{0, -1, 0}, durs: []music.Frac{q(1, 8), q(1, 8), q(3, 4)}}
	leaning    = figure{name: "appoggiatura", degrees: []int{1, 0}, durs: []music.Frac{q(1, 2), q(1, 2)}}
)

func (f figure) length() music.Frac {
	var d music.Frac
	for _, x := range f.durs {
		d = d.Add(x)
	}
	return d
}

// writer lays out wants at a tempo, hand by hand.
type writer struct {
	quarter float64 // ms
	start   float64
	want    []tap.Want
	at      [2]music.Frac
	landing [2]bool
}

func newWriter(quarter float64) *writer { return &writer{quarter: quarter, start: 1000} }

func (w *writer) ms(onset music.Frac) float64 { return w.start + onset.Float()*w.quarter }

func (w *writer) add(h perf.Hand, x tap.Want) {
	x.Hand, x.Onset, x.At = h, w.at[h], w.ms(w.at[h])
	x.Beat = x.Onset.Den() == 1
	x.Strong = x.Beat && x.Onset.Num()%4 == 0
	w.want = append(w.want, x)
}

// plain writes n notes of a length.
func (w *writer) plain(h perf.Hand, n int, d music.Frac) *writer {
	for range n {
		w.add(h, tap.Want{Measured: true, Count: 1, Landing: w.landing[h]})
		w.landing[h] = false
		w.at[h] = w.at[h].Add(d)
	}
	return w
}

func (w *writer) ornament(h perf.Hand, id string, f figure) *writer {
	for k, d := range f.durs {
		w.add(h, tap.Want{
			Ornament: id, Name: f.name, Index: k, Count: len(f.durs), Degree: f.degrees[k],
			Measured: !f.free, Tied: f.tied && k == 0, Note: score.ID("n" + id),
		})
		w.at[h] = w.at[h].Add(d)
	}
	w.landing[h] = true
	return w
}

// study is a few bars with an ornament a bar in the right hand over plain
// notes, and quarters in the left.
func study(quarter float64, f figure, bars int) []tap.Want {
	w := newWriter(quarter)
	for b := range bars {
		w.plain(perf.Right, 1, q(1, 1))
		w.ornament(perf.Right, "o"+string(rune('1'+b%9)), f)
		rest := q(3, 1).Sub(f.length())
		for !rest.IsZero() {
			d := q(1, 2).Min(rest)
			w.plain(perf.Right, 1, d)
			rest = rest.Sub(d)
		}
		w.plain(perf.Left, 4, q(1, 1))
	}
	w.plain(perf.Right, 1, q(1, 1))
	w.plain(perf.Left, 1, q(1, 1))
	return w.want
}

// exact taps every struck onset with one delay.
func exact(want []tap.Want, delay float64) []tap.Tap {
	var taps []tap.Tap
	for _, x := range want {
		if !x.Tied {
			taps = append(taps, tap.Tap{At: x.At + delay, Hand: x.Hand})
		}
	}
	return taps
}

// delayed taps exactly but for what by says of each want, and says false for
// those left out.
func delayed(want []tap.Want, by func(w tap.Want) (float64, bool)) []tap.Tap {
	var taps []tap.Tap
	for _, x := range want {
		if d, ok := by(x); ok && !x.Tied {
			taps = append(taps, tap.Tap{At: x.At + d, Hand: x.Hand})
		}
	}
	return taps
}

func hand(want []tap.Want, h perf.Hand) []tap.Want {
	var out []tap.Want
	for _, x := range want {
		if x.Hand == h {
			out = append(out, x)
		}
	}
	return out
}

func codes(r tap.Result) []string {
	var out []string
	for _, f := range r.Findings {
		out = append(out, f.Code)
	}
	return out
}
