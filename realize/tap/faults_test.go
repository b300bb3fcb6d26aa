package tap_test

import (
	"math"
	"math/rand"
	"slices"

	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/realize/words"
)

// put is a fault put into a simulated round: the figures it can befall and
// what it does to the strokes. size varies by playing.
type put struct {
	name    string
	figures []figure
	player  func(*rand.Rand) player
	both    bool // needs both hands tapped
	keys    bool // played on keys that tell their pitch
	spoil   func(r *rand.Rand, row []planned, quarter float64) []planned
	accept  []string // codes that name it; the first is the one meant
	words   *words.Catalogue
	gap     float64 // ms of a gap of the clock in the round; negative: so long before it
	// innocent is the share of rounds that may be blamed at most, 0 any; clean
	// the share that must be clean, 0 none.
	innocent, clean float64
}

var filling = []figure{longTrill}
var anyFigure = []figure{shortTrill, longTrill, mordent, dottedTurn, joinedTrill}

// inOrnament moves every stroke of every ornament by what by says. Of each
// playing it gets one random number in 0..1, the place of the note in the
// figure (0..1 of its time) and its index.
func inOrnament(by func(vary, place float64, s planned, quarter float64) float64) func(*rand.Rand, []planned, float64) []planned {
	return func(r *rand.Rand, row []planned, quarter float64) []planned {
		vary, start := 0.0, 0.0
		for i, s := range row {
			if s.want.Ornament == "" {
				continue
			}
			if s.want.Index == 0 {
				vary, start = r.Float64(), s.want.At
			}
			length := lengthOf(row, i) * quarter
			row[i].at += by(vary, (s.want.At-start)/length, s, quarter)
		}
		return row
	}
}

// lengthOf returns the figure's length in quarters, read off the row.
func lengthOf(row []planned, i int) float64 {
	first := i - row[i].want.Index
	land := first + row[i].want.Count
	if land >= len(row) || row[land].hand != row[i].hand {
		return 1
	}
	return row[land].want.Onset.Sub(row[first].want.Onset).Float()
}

// around moves right- or both-hand strokes by the time since the last
// landing in that hand, in beats.
func afterLanding(hands int, by func(vary, beats, quarter float64) float64) func(*rand.Rand, []planned, float64) []planned {
	return func(r *rand.Rand, row []planned, quarter float64) []planned {
		var landings []float64
		for _, s := range row {
			if s.want.Landing {
				landings = append(landings, s.want.At)
			}
		}
		vary := make([]float64, len(landings))
		for k := range vary {
			vary[k] = r.Float64()
		}
		for i, s := range row {
			if hands == 1 && s.hand != perf.Right {
				continue
			}
			for k, at := range landings {
				if beats := (s.want.At - at) / quarter; beats >= -0.01 {
					row[i].at += by(vary[k], beats, quarter)
				}
			}
		}
		return row
	}
}

// hesitates lets everything plain of the right hand come late that follows an
// ornament, up to the next one, which is in time again.
func hesitates(r *rand.Rand, row []planned, quarter float64) []planned {
	first := math.Inf(1)
	for _, s := range row {
		if s.want.Ornament != "" {
			first = min(first, s.want.At)
		}
	}
	by := 100 + 60*r.Float64()
	for i, s := range row {
		if s.want.Ornament == "" && s.want.At > first && s.hand == perf.Right {
			row[i].at += by
		}
	}
	return row
}

// leaveOut drops one note of each ornament, never the first: which one, the
// playing decides.
func leaveOut(r *rand.Rand, row []planned, quarter float64) []planned {
	out := 0
	for i, s := range row {
		if s.want.Ornament == "" {
			continue
		}
		if s.want.Index == 0 {
			out = 1 + r.Intn(s.want.Count-1)
		}
		row[i].drop = s.want.Index == out
	}
	return row
}

// recount replaces each ornament's strokes by count even ones over its time.
func recount(count int) func(*rand.Rand, []planned, float64) []planned {
	return func(r *rand.Rand, row []planned, quarter float64) []planned {
		var out []planned
		for i, s := range row {
			if s.want.Ornament == "" {
				out = append(out, s)
				continue
			}
			if s.want.Index != 0 {
				continue
			}
			step := lengthOf(row, i) * quarter / float64(count)
			for k := range count {
				t := s
				t.at += step * (float64(k) + 0.07*r.NormFloat64())
				out = append(out, t)
			}
		}
		return out
	}
}

func some(r *rand.Rand, row []planned, n int, do func(s *planned)) []planned {
	for range n {
		do(&row[r.Intn(len(row))])
	}
	return row
}

// puts is the table of faults.
var puts = []put{
	{name: "none, trained", innocent: 0.01, clean: 0.95, figures: anyFigure, player: trained, accept: []string{tap.CodeClean, tap.CodeNearly}},
	{name: "none, untrained", innocent: 0.01, clean: 0.90, figures: anyFigure, player: untrained, accept: []string{tap.CodeClean, tap.CodeNearly}},
	{name: "none, child", innocent: 0.015, clean: 0.70, figures: anyFigure, player: child, accept: []string{tap.CodeClean, tap.CodeNearly}},
	{name: "free count", innocent: 0.01, clean: 0.95, figures: []figure{freeTrill}, player: trained, spoil: recount(6), accept: []string{tap.CodeClean, tap.CodeNearly}},
	{name: "late", figures: anyFigure, player: untrained, accept: []string{tap.CodeLateStart},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 { return 80 + 50*v })},
	{name: "late, catches up", figures: filling, player: untrained, accept: []string{tap.CodeLateStart},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 { return (80 + 50*v) * (1 - place) })},
	{name: "early", figures: filling, player: untrained, accept: []string{tap.CodeEarlyStart},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 { return -(80 + 50*v) * (1 - place) })},
	{name: "reacting", figures: anyFigure, player: untrained, accept: []string{tap.CodeReacting},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			by := 190 + 60*r.Float64()
			for i := range row {
				row[i].at += by
			}
			return row
		}},
	{name: "before the beat", figures: []figure{shortTrill, mordent, leaning}, player: untrained, accept: []string{tap.CodeBeforeBeat},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			first := planned{}
			for i, s := range row {
				if s.want.Ornament != "" {
					// The main note stands on the beat, the small ones before it, no slower than 110 ms.
					if s.want.Index == 0 {
						first = s
					}
					last := row[i-s.want.Index+s.want.Count-1]
					step := min(110, (last.want.At-first.want.At)/float64(s.want.Count-1))
					back := float64(s.want.Count-1-s.want.Index) * step
					row[i].at = first.at - back + 0.1*step*r.NormFloat64()
				}
			}
			return row
		}},
	{name: "other hand waits", figures: []figure{longTrill, shortTrill}, player: untrained, both: true, accept: []string{tap.CodeHandWaits},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			by := make([]float64, 99)
			for k := range by {
				by[k] = 0.14 + 0.08*r.Float64()
			}
			for i, s := range row {
				bar := int(s.want.Onset.Float()) / 4
				switch at := s.want.Onset.Mod(music.Int(4)).Float(); {
				case at > 1 && at <= 2:
					row[i].at += by[bar] * (at - 1) * quarter
				case at > 2 && at < 4:
					row[i].at += by[bar] * (4 - at) / 2 * quarter
				}
			}
			return row
		}},
	{name: "no ending", figures: filling, player: untrained, accept: []string{tap.CodeNoEnding},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			for i, s := range row {
				row[i].drop = s.want.Ornament != "" && s.want.Index >= s.want.Count-2
			}
			return row
		}},
	{name: "an alternation too few", figures: filling, player: untrained, spoil: recount(6), accept: []string{tap.CodeFewerNotes}},
	{name: "an alternation too many", figures: filling, player: untrained, spoil: recount(10), accept: []string{tap.CodeMoreNotes}},
	{name: "turn too early", figures: []figure{dottedTurn}, player: untrained, accept: []string{tap.CodeTurnEarly},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 {
			if s.want.Index == 0 || s.want.Index == 4 {
				return 0
			}
			return -(0.12 + 0.08*v) * quarter
		})},
	{name: "turn two quick, one slow", figures: []figure{dottedTurn}, player: untrained, accept: []string{tap.CodeTurnTwoQuick},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 {
			return map[int]float64{2: -1. / 24, 3: -1. / 12}[s.want.Index] * (0.8 + 0.4*v) * quarter
		})},
	{name: "limps", figures: filling, player: untrained, accept: []string{tap.CodeLimps},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 { return limping(s, quarter, 0.6+0.15*v) })},
	{name: "limps, lower short", figures: filling, player: untrained, accept: []string{tap.CodeLimpsLower},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 { return limping(s, quarter, 1/(0.6+0.15*v)) })},
	{name: "crowded at the front", figures: filling, player: untrained, accept: []string{tap.CodeCrowdedFront},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 {
			return (math.Pow(place, 1.4+0.3*v) - place) * quarter
		})},
	{name: "crowded at the back", figures: filling, player: untrained, accept: []string{tap.CodeCrowdedBack},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 {
			return (math.Pow(place, 0.55+0.15*v) - place) * quarter
		})},
	{name: "rushed", figures: filling, player: untrained, accept: []string{tap.CodeRushed},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 {
			return -place * (0.25 + 0.15*v) * quarter
		})},
	{name: "leans too short", figures: []figure{leaning}, player: untrained, accept: []string{tap.CodeLeanShort},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 {
			return -float64(s.want.Index) * (0.15 + 0.1*v) * quarter
		})},
	{name: "leans too long", figures: []figure{leaning}, player: untrained, accept: []string{tap.CodeLeanLong},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 {
			return float64(s.want.Index) * (0.15 + 0.1*v) * quarter
		})},
	{name: "bump", figures: []figure{longTrill, shortTrill, mordent}, player: untrained, accept: []string{tap.CodeBump},
		spoil: afterLanding(1, func(v, beats, quarter float64) float64 { return max(0, (110+60*v)*(1-beats)) })},
	{name: "runs ahead after", figures: []figure{longTrill, shortTrill, mordent}, player: trained, accept: []string{tap.CodeRushesAfter},
		spoil: afterLanding(1, func(v, beats, quarter float64) float64 {
			if beats > 2.01 {
				return 0
			}
			return -beats * quarter * (0.06 + 0.03*v)
		})},
	{name: "tempo drifts", figures: anyFigure, player: untrained, accept: []string{tap.CodeDrift},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			by := (0.025 + 0.015*r.Float64()) * math.Copysign(1, r.Float64()-0.5)
			for i, s := range row {
				row[i].at += by * (s.want.At - row[0].want.At)
			}
			return row
		}},
	{name: "omitted", clean: 0.8, figures: anyFigure, player: untrained, accept: []string{tap.CodeMissed, tap.CodeFewerNotes},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			return some(r, row, 3, func(s *planned) { s.drop = true })
		}},
	{name: "doubled", clean: 0.8, figures: []figure{mordent, shortTrill}, player: untrained, accept: []string{tap.CodeExtra},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			return some(r, row, 3, func(s *planned) { s.twice = s.want.Ornament == "" })
		}},
	{name: "keys swapped", figures: filling, player: untrained, keys: true, accept: []string{tap.CodeSwapped},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			for done := 0; done < 2; {
				i := r.Intn(len(row) - 1)
				if row[i].hand == row[i+1].hand && row[i].key != row[i+1].key {
					row[i].key, row[i+1].key = row[i+1].key, row[i].key
					done++
				}
			}
			return row
		}},
	{name: "by the other hand", figures: anyFigure, player: untrained, both: true, accept: []string{tap.CodeWrongHand},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			for i, s := range row {
				if s.want.Onset.Den() != 1 && s.want.Ornament == "" && r.Intn(3) == 0 {
					row[i].hand = 1 - s.hand
				}
			}
			return row
		}},
	{name: "uneven", figures: filling, player: trained, accept: []string{tap.CodeUneven},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			for i, s := range row {
				if s.want.Ornament != "" && s.want.Index > 0 {
					row[i].at += 0.4 * quarter / 8 * r.NormFloat64()
				}
			}
			return row
		}},
	{name: "late after", figures: anyFigure, player: untrained, accept: []string{tap.CodeLateAfter},
		spoil: hesitates},
	{name: "late after, other hand tapped", figures: anyFigure, player: untrained, both: true, accept: []string{tap.CodeLateAfter},
		spoil: hesitates},
	{name: "late for two beats after", figures: []figure{mordent, shortTrill, longTrill}, player: untrained, accept: []string{tap.CodeLateAfter},
		spoil: afterLanding(1, func(v, beats, quarter float64) float64 {
			if beats > 1.99 {
				return 0
			}
			return 100 + 60*v
		})},
	{name: "two notes for three", figures: []figure{mordent}, player: untrained, accept: []string{tap.CodeShort}, spoil: leaveOut},
	{name: "the main note alone", figures: []figure{leaning}, player: untrained, accept: []string{tap.CodeShort}, spoil: leaveOut},
	{name: "mordent crowded", figures: []figure{mordent}, player: untrained, accept: []string{tap.CodeCrowdedFront},
		spoil: inOrnament(func(v, place float64, s planned, quarter float64) float64 {
			return -(0.03 + 0.02*v) * quarter * b2f(s.want.Index == 1)
		})},
	{name: "the sound broke off", figures: anyFigure, player: untrained, accept: []string{tap.CodeBroken}, gap: 30},
	{name: "the device moved", figures: anyFigure, player: untrained, accept: []string{tap.CodeBroken}, gap: 1000},
	{name: "a gap before the round", innocent: 0.01, clean: 0.95, figures: anyFigure, player: trained, accept: []string{tap.CodeClean, tap.CodeNearly}, gap: -400},
	{name: "nothing tapped", figures: anyFigure, player: untrained, accept: []string{tap.CodeUntapped},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned { return nil }},
	{name: "gives up", figures: anyFigure, player: untrained, accept: []string{tap.CodeHardly},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			slices.SortStableFunc(row, func(a, b planned) int { return a.want.Onset.Cmp(b.want.Onset) })
			return row[:int((0.1+0.3*r.Float64())*float64(len(row)))]
		}},
	{name: "taps now and then", figures: anyFigure, player: untrained, accept: []string{tap.CodeHardly},
		spoil: func(r *rand.Rand, row []planned, quarter float64) []planned {
			for i := range row {
				row[i].drop = r.Float64() < 0.7
			}
			return row
		}},
	{name: "unsteady", figures: []figure{mordent}, player: func(r *rand.Rand) player {
		p := untrained(r)
		p.spread = 0.13 + 0.03*r.Float64()
		return p
	}, accept: []string{tap.CodeUnsteady}},
}

// limping gives a trill's upper notes ratio times the lower ones' length.
func limping(s planned, quarter, ratio float64) float64 {
	if s.want.Index%2 == 0 {
		return 0
	}
	return (2*ratio/(1+ratio) - 1) * quarter / 8
}
