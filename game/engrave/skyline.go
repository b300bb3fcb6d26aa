package engrave

import "math"

// skyline keeps, cell by cell along a staff, how far what is already drawn
// reaches up and down from the staff's middle line (y down).
type skyline struct {
	left        float64
	top, bottom []float32
}

const cellsPerSpace = 4

// nothing is the top of an empty cell, below everything; its bottom is above.
const nothing = 1000

func newSkyline(left, right float64) skyline {
	n := max(1, int((right-left)*cellsPerSpace)+2)
	s := skyline{left: left, top: make([]float32, n), bottom: make([]float32, n)}
	for i := range s.top {
		s.top[i], s.bottom[i] = nothing, -nothing
	}
	return s
}

func (s *skyline) span(x0, x1 float64) (int, int) {
	i := int(math.Floor((x0 - s.left) * cellsPerSpace))
	j := int(math.Ceil((x1 - s.left) * cellsPerSpace))
	i = min(max(i, 0), len(s.top)-1)
	return i, min(max(j, i+1), len(s.top))
}

// add takes a box into account.
func (s *skyline) add(b Box) {
	i, j := s.span(b.Left, b.Right)
	for ; i < j; i++ {
		s.top[i] = min(s.top[i], float32(b.Top))
		s.bottom[i] = max(s.bottom[i], float32(b.Bottom))
	}
}

// inkTop returns the y of the highest ink between x0 and x1, nothing where
// there is none.
func (s *skyline) inkTop(x0, x1 float64) float64 {
	i, j := s.span(x0, x1)
	y := s.top[i]
	for _, v := range s.top[i:j] {
		y = min(y, v)
	}
	return float64(y)
}

// inkBottom returns the y of the lowest ink between x0 and x1.
func (s *skyline) inkBottom(x0, x1 float64) float64 {
	i, j := s.span(x0, x1)
	y := s.bottom[i]
	for _, v := range s.bottom[i:j] {
		y = max(y, v)
	}
	return float64(y)
}

// above returns the y above everything between x0 and x1, the staff included.
func (s *skyline) above(x0, x1 float64) float64 { return min(-2, s.inkTop(x0, x1)) }

// below returns the y below everything between x0 and x1, the staff included.
func (s *skyline) below(x0, x1 float64) float64 { return max(2, s.inkBottom(x0, x1)) }

// apart returns how far the middle lines of two staves must stand apart so
// that nothing of the upper comes nearer than gap to anything of the lower.
func apart(upper, lower *skyline, gap float64) float64 {
	d := 0.0
	for i := range min(len(upper.bottom), len(lower.top)) {
		d = max(d, float64(max(2, upper.bottom[i])-min(-2, lower.top[i]))+gap)
	}
	return d
}
