package realize

import (
	"slices"

	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// PassChoice is a choice taken in one pass of a repeat, counted from 1.
type PassChoice struct {
	Pass   int
	Choice int // index in the ornament's choices
}

// ChosenIn returns the index of the choice an ornament takes in a pass.
func (o *Ornament) ChosenIn(pass int) int {
	for _, p := range o.Passes {
		if p.Pass == pass && p.Choice >= 0 && p.Choice < len(o.Choices) {
			return p.Choice
		}
	}
	return o.Chosen
}

// ChooseInPass returns a copy of the reading with another choice taken for one
// ornament in one pass of a repeat. Unknown ids and choices out of range
// change nothing.
func (r *Reading) ChooseInPass(ornamentID string, pass, choice int) *Reading {
	q := *r
	q.Ornaments = slices.Clone(r.Ornaments)
	o := q.find(ornamentID)
	if o == nil || pass < 1 || choice < 0 || choice >= len(o.Choices) {
		return &q
	}
	passes := slices.DeleteFunc(slices.Clone(o.Passes), func(p PassChoice) bool { return p.Pass == pass })
	passes = append(passes, PassChoice{pass, choice})
	sorting.Stable(passes, func(a, b PassChoice) int { return a.Pass - b.Pass })
	o.Passes = passes
	return &q
}

// InPass returns the reading as it is played in one pass of a repeat: what was
// decided for that pass is chosen.
func (r *Reading) InPass(pass int) *Reading {
	if !r.variesByPass() {
		return r
	}
	q := *r
	q.Ornaments = slices.Clone(r.Ornaments)
	for i := range q.Ornaments {
		q.Ornaments[i].Chosen = q.Ornaments[i].ChosenIn(pass)
	}
	return &q
}

// variesByPass reports whether any ornament is played otherwise in some pass.
func (r *Reading) variesByPass() bool {
	return slices.ContainsFunc(r.Ornaments, func(o Ornament) bool { return len(o.Passes) > 0 })
}

// PerformAlong is [Perform] on a way through the piece: each measure with what
// was decided for its pass, laid end to end from onset 0 as [Along] does.
func PerformAlong(r *Reading, o PerformOptions, road []score.Step) *perf.Performance {
	if !r.variesByPass() {
		return Along(r.Passage, Perform(r, o), road)
	}
	played := map[int]*perf.Performance{}
	return alongPasses(r.Passage, road, func(pass int) *perf.Performance {
		if played[pass] == nil {
			played[pass] = Perform(r.InPass(pass), o)
		}
		return played[pass]
	})
}
