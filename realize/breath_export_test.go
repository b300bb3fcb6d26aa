package realize

import (
	"slices"

	"agremens/realize/perf"
)

// InnerRules is how many rules of inner timing shakes have.
func InnerRules() int { return len(breaths) }

// InnerRule returns the rule for a shake in a composer's music by number, -1
// where it stays even. steps are its notes' degrees.
func InnerRule(steps []int, composer string) int {
	of := map[string]period{"Haydn": haydn, "Mozart": classical, "Beethoven": middle, "Schubert": later, "Chopin": later}[composer]
	n := len(steps)
	closed := steps[n-2] == -1 && steps[n-1] == 0
	shake := n
	if closed {
		shake -= 2
	}
	return slices.IndexFunc(breaths[:], func(r breath) bool {
		return r.closed == closed && shake <= r.most && (r.periods == nil || slices.Contains(r.periods, of))
	})
}

// InnerFigures are the figures of a rule: first, speed, before, closing, last.
func InnerFigures(rule int) [5]float64 {
	r := breaths[rule]
	if !r.closed {
		r.before, r.closing = 1, 1
	}
	return [5]float64{r.first, r.speed, r.before, r.closing, r.last}
}

// InnerShares are the shares of n notes by a rule with other figures.
func InnerShares(rule, n int, f [5]float64) []float64 {
	r := breaths[rule]
	r.first, r.speed, r.before, r.closing, r.last = f[0], f[1], f[2], f[3], f[4]
	return r.weights(n, true)
}

// InnerQuick are the shares of the quick notes of a short figure, nil for even.
func InnerQuick(figureKey string, steps []int) []float64 {
	var run []perf.Note
	for _, s := range steps {
		run = append(run, perf.Note{Degree: s})
	}
	return innerWeights(run, figure(slices.Index(figureKeys[:], figureKey)), baroque, false)
}
