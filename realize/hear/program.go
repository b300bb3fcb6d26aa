package hear

import "math"

// What the program itself sounds from the loudspeaker: one hand, which keeps
// its time, while the other is played.

// placeProgram finds in what was heard the notes that the program sounded at
// times that are not told. Both hands are aligned for that; then those of the
// program are put on the line that they keep to.
func (p *plan) placeProgram(e Expected, strikes []Strike) (*plan, Expected) {
	untold := func(n Note) bool { return n.Program && math.IsNaN(n.Sent) && !math.IsNaN(n.At) }
	any := false
	all := e
	all.Notes = append([]Note(nil), e.Notes...)
	for i := range all.Notes {
		if untold(all.Notes[i]) {
			all.Notes[i].Program, any = false, true
		}
	}
	if !any || len(strikes) == 0 {
		return p, e
	}
	both := newPlan(all)
	way, _ := both.lastTry(both.follow(strikes, e.Tempo > 0))
	if len(way.times) == 0 {
		return p, e
	}
	var at, when []float64
	claims := both.assign(way, strikes)
	for _, i := range both.own { // in order
		if n, c := e.Notes[i], claims[i]; untold(n) && c.strike >= 0 && strikes[c.strike].Odds > 0 {
			at, when = append(at, n.At), append(when, strikes[c.strike].At)
		}
	}
	due := both.timeMap(way)
	if a, b, ok := line(at, when); ok && off(at, when, a, b) < notInTime {
		due = func(x float64) float64 { return a + b*x }
	}
	first, last := both.stretch(way)
	e.Notes = append([]Note(nil), e.Notes...)
	for i, n := range e.Notes {
		if untold(n) && n.At >= first-samePlace && n.At <= last+samePlace {
			e.Notes[i].Sent = due(n.At) - e.Delay
		}
	}
	return newPlan(e), e
}

// notInTime is how far notes of the program may lie from a line, s, in the
// median: beyond it the tempo changes, or these are not its notes.
const notInTime = 0.02

// off is the median distance of points from a line.
func off(at, when []float64, a, b float64) float64 {
	d := make([]float64, len(at))
	for i := range at {
		d[i] = math.Abs(when[i] - a - b*at[i])
	}
	return median(d)
}

// programNotes places what the loudspeaker sounded.
func (p *plan) programNotes(r *Report, e Expected) {
	for i, n := range p.notes {
		if n.Program && !math.IsNaN(n.Sent) {
			r.Notes[i] = Heard{Reached: true, Played: true, At: n.Sent + e.Delay, Confidence: 1}
		}
	}
}
