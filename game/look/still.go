package look

import (
	"math"
	"sort"
)

// Turn returns where a staff that goes on bar by bar stands at an onset: the
// start of the first bar in sight. Bars are the onsets at which bars start and,
// last, at which the music ends, in quarters; room is how many quarters the
// stage holds. Each turn shows as many whole bars as there is room for; a bar
// that is longer than the stage is shown in pieces.
func Turn(bars []float64, room, onset float64) float64 {
	if len(bars) < 2 || room <= 0 {
		return onset
	}
	start := bars[0]
	for start < onset {
		next := nextTurn(bars, room, start)
		if next > onset || next <= start {
			break
		}
		start = next
	}
	return start
}

// nextTurn returns the start of the turn after one.
func nextTurn(bars []float64, room, start float64) float64 {
	last := bars[len(bars)-1]
	if start+room >= last {
		return math.Inf(1)
	}
	// The last bar line in sight.
	i := sort.Search(len(bars), func(i int) bool { return bars[i] > start+room }) - 1
	if bars[i] > start {
		return bars[i]
	}
	return start + room
}

// Beat returns the beat an onset lies in, for a line that goes from beat to
// beat: beats are their onsets in quarters.
func Beat(beats []float64, onset float64) float64 {
	i := sort.Search(len(beats), func(i int) bool { return beats[i] > onset+1e-9 }) - 1
	if i < 0 {
		return onset
	}
	return beats[i]
}
