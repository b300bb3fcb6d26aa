package hear

import "math"

// What the program itself sounds from the loudspeaker: one hand, which keeps
// its time, while the other is played.

// placeProgram finds in what was heard the notes that the program sounded at
// times that are not told. Both hands are aligned for that; then those of the
// program are put on the line that they keep to.
func (l *Listener) placeProgram(p *plan, e Expected, strikes []Strike) (*plan, Expected) {
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
	way, _ := both.lastTry(l.follow(both, strikes, e.Tempo > 0))
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

// delayIn finds how late the loudspeaker was heard where the sound itself did
// not tell: from the strikes of the keys that it was sent. All of its notes are
// as late as one.
func (p *plan) delayIn(strikes []Strike) Amount {
	var lags []float64
	var weights []float64
	sent := 0
	for _, n := range p.notes {
		if !n.Program || math.IsNaN(n.Sent) {
			continue
		}
		sent++
		for k := firstFrom(strikes, n.Sent); k < len(strikes) && strikes[k].At < n.Sent+longestDelay; k++ {
			if s := strikes[k]; s.Key == n.Key && s.Odds > faintest {
				lags, weights = append(lags, s.At-n.Sent), append(weights, confidence(s.Odds-faintest/2))
			}
		}
	}
	if sent < fewestSent {
		return Amount{}
	}
	at := func(lag float64) (sum, mean float64) {
		for i, x := range lags {
			z := (x - lag) / sameLag
			w := weights[i] * math.Exp(-0.5*z*z)
			sum, mean = sum+w, mean+w*x
		}
		return sum, mean / sum
	}
	best, top, second := 0.0, 0.0, 0.0
	for _, x := range lags {
		if sum, mean := at(x); sum > top {
			best, top = mean, sum
		}
	}
	for _, x := range lags {
		if sum, _ := at(x); math.Abs(x-best) > 5*sameLag {
			second = max(second, sum)
		}
	}
	if top < mostOfSent*float64(sent) || top < clearlyFirst*second {
		return Amount{}
	}
	return Amount{best, true}
}

// For a delay by strikes: how many notes must have been sent, which share of
// them must agree, how well, s, by how much more than on any other delay, and
// the least odds of a strike that is asked. By recordings whose delay is known.
const (
	fewestSent   = 5
	mostOfSent   = 0.2
	sameLag      = 0.008
	clearlyFirst = 1.5
	faintest     = -4.0
)

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
