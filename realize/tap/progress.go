package tap

import (
	"math"

	"agremens/realize/sorting"
)

// Practised is one round of the log, as far as it tells what stays.
type Practised struct {
	Day     int // counted from any day on
	Minute  int // within the day
	Passage string
	Tempo   float64 // felt beats a minute
	// Starts are how late each ornament started against the other hand, ms.
	Starts []float64
	Uneven []float64 // scatter of each ornament's quick notes, as a share
	Clean  bool
	// Unaided: without clicks and moving line.
	Unaided bool
	Void    bool // "that wasn't me"
	// Place is where the round stands in the caller's own list. Nothing here
	// looks at it.
	Place int
}

// Cold returns the first round of each day, in order of days: what stayed
// overnight, and not the best of many.
func Cold(rounds []Practised) []Practised {
	return firsts(rounds, func(Practised) bool { return true })
}

// Unaided returns the rounds without help, in order.
func Unaided(rounds []Practised) []Practised {
	var out []Practised
	for _, r := range sorted(rounds) {
		if r.Unaided {
			out = append(out, r)
		}
	}
	return out
}

func firsts(rounds []Practised, use func(Practised) bool) []Practised {
	var out []Practised
	for _, r := range sorted(rounds) {
		if use(r) && (len(out) == 0 || out[len(out)-1].Day != r.Day) {
			out = append(out, r)
		}
	}
	return out
}

func sorted(rounds []Practised) []Practised {
	var out []Practised
	for _, r := range rounds {
		if !r.Void {
			out = append(out, r)
		}
	}
	sorting.Stable(out, func(a, b Practised) int {
		if a.Day != b.Day {
			return a.Day - b.Day
		}
		return a.Minute - b.Minute
	})
	return out
}

// Verdict says whether something changed.
type Verdict string

// Verdicts. Below twice the standard error nothing is claimed.
const (
	Better  Verdict = "better"
	Worse   Verdict = "less"
	NoClear Verdict = "no clear change yet"
	TooFew  Verdict = "too few"
)

// Change compares two sets of one measure.
type Change struct {
	Verdict       Verdict
	Before, After float64
	SE            float64 // of the difference
}

// changeLeast is how many values each set needs.
const changeLeast = 4

// CompareStarts compares how far starts lie from the beat, either way: nearer
// to 0 is better. Values are ms.
func CompareStarts(before, after []float64) Change {
	return compare(distances(before), distances(after), -1)
}

// CompareUneven compares scatter: less is better.
func CompareUneven(before, after []float64) Change { return compare(before, after, -1) }

// CompareMarks compares the teacher's marks by ear, 0 to 3: more is better.
func CompareMarks(before, after []float64) Change { return compare(before, after, 1) }

// CompareTempo compares tempos reached: more is better.
func CompareTempo(before, after []float64) Change { return compare(before, after, 1) }

// CompareClean compares the share of clean rounds. One clean and one other
// round are added to both sides, so that three in three do not look certain
// (Agresti and Caffo 2000, from memory).
func CompareClean(cleanBefore, before, cleanAfter, after int) Change {
	p, n := share(cleanBefore, before)
	q, m := share(cleanAfter, after)
	c := Change{Before: p, After: q, SE: math.Sqrt(p*(1-p)/n + q*(1-q)/m)}
	c.judge(1, min(before, after))
	return c
}

func share(clean, of int) (p, n float64) {
	n = float64(of + 2)
	return float64(clean+1) / n, n
}

// compare says whether the means differ by more than twice the standard error
// of their difference; sign 1 means that more is better.
func compare(before, after []float64, sign float64) Change {
	c := Change{Before: mean(before), After: mean(after)}
	c.SE = math.Sqrt(variance(before) + variance(after))
	c.judge(sign, min(len(before), len(after)))
	return c
}

func (c *Change) judge(sign float64, least int) {
	d := sign * (c.After - c.Before)
	switch {
	case least < changeLeast:
		c.Verdict = TooFew
	case d > 2*c.SE:
		c.Verdict = Better
	case d < -2*c.SE:
		c.Verdict = Worse
	default:
		c.Verdict = NoClear
	}
}

// variance returns the squared standard error of a mean.
func variance(x []float64) float64 {
	if len(x) == 0 {
		return 0
	}
	d := deviation(x)
	return d * d / float64(len(x))
}

func distances(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		out[i] = math.Abs(v)
	}
	return out
}
