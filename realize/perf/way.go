package perf

import (
	"sort"

	"agremens/realize/music"
)

// Leg is one measure on a way through the piece.
type Leg struct {
	Onset   music.Frac // when it is played, quarters from the beginning of the way
	Written music.Frac // where it stands, quarters from the start of the passage
	Measure int        // index of the written measure
}

// Way is the order in which measures are played, by the time they begin. The
// zero Way is the written order: played and written time are the same.
type Way []Leg

// At returns the index of the leg that is played at an onset, the first for
// earlier ones, -1 in the written order.
func (w Way) At(played float64) int {
	if len(w) == 0 {
		return -1
	}
	return max(0, sort.Search(len(w), func(i int) bool { return played < w[i].Onset.Float() })-1)
}

// Written returns where a played place stands in the passage, in quarters.
func (w Way) Written(played float64) float64 {
	i := w.At(played)
	if i < 0 {
		return played
	}
	return played - w[i].Onset.Float() + w[i].Written.Float()
}

// Leaps reports whether the way goes on elsewhere than at the measure that is
// written next when leg i begins.
func (w Way) Leaps(i int) bool { return i > 0 && i < len(w) && w[i].Measure != w[i-1].Measure+1 }
