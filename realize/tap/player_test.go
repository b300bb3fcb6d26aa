package tap_test

import (
	"math/rand"
	"slices"

	"agremens/realize/perf"
	"agremens/realize/tap"
)

// player is a simulated person at the keys.
type player struct {
	lead   float64 // ms, negative early
	spread float64 // of plain taps, as a share of the beat
	quick  float64 // scatter of quick notes, as a share of their interval
}

// Human parameters. Sources: lead −10 to −30 ms for musicians, −20 to −80 ms
// untrained; spread 2–3 % of the interval trained, 4–6 % untrained (Repp 2005
// and Repp and Su 2013 for existence and scope; the figures from memory).
// Children of eight to ten: spread 6–8 % (working value, from memory). The
// scatter of quick notes is ours: no page with figures for students was found.
func trained(r *rand.Rand) player {
	return player{lead: -10 - 20*r.Float64(), spread: 0.02 + 0.01*r.Float64(), quick: 0.06 + 0.04*r.Float64()}
}

func untrained(r *rand.Rand) player {
	return player{lead: -20 - 60*r.Float64(), spread: 0.035 + 0.02*r.Float64(), quick: 0.10 + 0.05*r.Float64()}
}

func child(r *rand.Rand) player {
	return player{lead: -20 - 60*r.Float64(), spread: 0.06 + 0.02*r.Float64(), quick: 0.14 + 0.05*r.Float64()}
}

// planned is a tap on its way: where it belongs and what it will be.
type planned struct {
	want  tap.Want
	at    float64
	drop  bool
	twice bool
	key   int
	hand  perf.Hand
}

// play taps the wants as the player would who makes no mistake: every plain
// tap and every ornament's start scatters around the lead; the notes inside
// an ornament lean from its start's error to its landing's, and scatter by
// their own interval.
func (p player) play(r *rand.Rand, want []tap.Want, quarter float64) []planned {
	out := make([]planned, 0, len(want))
	for _, h := range []perf.Hand{perf.Right, perf.Left} {
		row := hand(want, h)
		slices.SortStableFunc(row, func(a, b tap.Want) int { return a.Onset.Cmp(b.Onset) })
		anchor := make([]float64, len(row))
		for i, w := range row {
			if w.Ornament == "" || w.Index == 0 {
				anchor[i] = p.lead + p.spread*quarter*r.NormFloat64()
			}
		}
		for i, w := range row {
			at := w.At + anchor[i]
			if w.Ornament != "" && w.Index > 0 {
				first := i - w.Index
				land := first + w.Count
				e := anchor[first]
				if land < len(row) {
					share := (w.At - row[first].At) / (row[land].At - row[first].At)
					e += share * (anchor[land] - e)
				}
				interval := w.At - row[i-1].At
				if i+1 < len(row) {
					interval = min(interval, row[i+1].At-w.At)
				}
				at = w.At + e + p.quick*interval*r.NormFloat64()/1.4
			}
			out = append(out, planned{want: w, at: at, key: w.Key, hand: h})
		}
	}
	return out
}

// taps sends the strokes off in order of time.
func taps(row []planned) []tap.Tap {
	var out []tap.Tap
	for _, s := range row {
		if s.drop || s.want.Tied {
			continue
		}
		out = append(out, tap.Tap{At: s.at, Hand: s.hand, Key: s.key})
		if s.twice {
			out = append(out, tap.Tap{At: s.at + 90, Hand: s.hand, Key: s.key})
		}
	}
	slices.SortStableFunc(out, func(a, b tap.Tap) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	return out
}
