package week

import (
	"cmp"
	"math"
)

// The staff's lines stand at 0 to 4 staff spaces, y down. The goal is the top
// one; what is faster rises above it, so far at most.
const (
	topLine    = 0.0
	bottomLine = 4.0
	most       = -1.0
)

// scale says which tempos the bottom and the top line stand for.
type scale struct{ low, high float64 }

// scale takes in all tempos of the week. The bottom line is a multiple of ten
// beneath the slowest, so that no note hangs below it.
func (w Week) scale() scale {
	slowest, fastest := math.Inf(1), 0.0
	for _, d := range w.Days {
		if t := d.tempo(); t > 0 {
			slowest, fastest = min(slowest, t), max(fastest, t)
		}
	}
	s := scale{high: w.Goal}
	slowest = min(slowest, cmp.Or(w.from, slowest))
	if s.high == 0 {
		s.high = 10 * math.Ceil(fastest/10)
	}
	s.low = 10 * math.Floor(min(slowest, s.high-1)/10)
	if math.IsInf(slowest, 1) || s.high-s.low < s.high/4 {
		// A small difference must not look like a large one.
		s.low = 10 * math.Floor(0.75*s.high/10)
	}
	return s
}

// y is the height of a tempo.
func (s scale) y(tempo float64) float64 {
	if s.high <= s.low {
		return bottomLine
	}
	return min(max(bottomLine-(tempo-s.low)/(s.high-s.low)*(bottomLine-topLine), most), bottomLine)
}

// tempo is the one that a day's note stands for, 0 for none.
func (d Day) tempo() float64 {
	if d.Clean > 0 {
		return d.Clean
	}
	return d.Tried
}
