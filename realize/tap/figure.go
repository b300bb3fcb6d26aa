package tap

import "math"

// planned returns the length of the ornament's k-th note as heard; the last
// one's runs to the landing.
func (s *side) planned(r *OrnamentResult, k int) float64 {
	if k+1 < len(r.onsets) {
		return s.onsets[r.onsets[k+1]].At - s.onsets[r.onsets[k]].At
	}
	if r.landing < 0 {
		return math.Inf(1)
	}
	return s.onsets[r.landing].At - s.onsets[r.onsets[k]].At
}

// quick returns the range of the ornament's quick intervals [from, to):
// interval k runs from note k to note k+1. The last note's own is not one of them.
func (s *side) quick(r *OrnamentResult) (from, to int) {
	n := len(r.onsets)
	least := math.Inf(1)
	for k := 0; k+1 < n; k++ {
		least = math.Min(least, s.planned(r, k))
	}
	from, to = 0, n-1
	for from < to && s.planned(r, from) > heldRatio*least {
		from++
	}
	for to > from && s.planned(r, to-1) > heldRatio*least {
		to--
	}
	return from, to
}

// measureLean reads a single appoggiatura and its main note.
func (s *side) measureLean(r *OrnamentResult) {
	if r.Wanted != 2 || r.Tapped != 2 {
		return
	}
	a, _ := s.late(r.onsets[0])
	b, _ := s.late(r.onsets[1])
	r.Lean = amount(b-a, s.spread*math.Sqrt2)
}

// measureRelease reads when the ornament's keys were let go.
func (s *side) measureRelease(r *OrnamentResult, taps []Tap) {
	var late []float64
	for _, i := range r.onsets {
		o := s.onsets[i]
		if s.hit[i] < 0 || !(o.Until > 0) {
			continue
		}
		if t := taps[s.strokes[s.hit[i]].all[0]]; t.Until > t.At {
			late = append(late, t.Until-o.Until-s.lead.at(o.Until))
		}
	}
	if len(late) > 0 {
		r.Release = amount(mean(late), s.spread*math.Sqrt2/math.Sqrt(float64(len(late))))
	}
}

// measureQuick looks at the quick notes: pace, evenness, limp, crowding.
func (s *side) measureQuick(r *OrnamentResult) {
	from, to := s.quick(r)
	if from >= to {
		return
	}
	if r.Tapped != r.Wanted {
		s.measureRate(r)
		return
	}
	var ratios []float64
	for k := from; k < to; k++ {
		played := s.strokes[s.hit[r.onsets[k+1]]].at - s.strokes[s.hit[r.onsets[k]]].at
		ratios = append(ratios, math.Max(0.1, played/s.planned(r, k)))
	}
	length := s.onsets[r.onsets[to]].At - s.onsets[r.onsets[from]].At
	interval := length / float64(len(ratios))
	se := quickScatter(ratios) // of one ratio
	// A start that comes late or a landing aimed at early bends the pace a little.
	bend := s.spread * math.Sqrt2 / (length + math.Min(s.planned(r, to), length))
	r.Pace = amount(mean(ratios), math.Hypot(se*interval/length, bend))
	r.Rate = amount(float64(len(ratios))/(length*mean(ratios))*second, 0)
	if len(ratios) >= 2 {
		r.Uneven = amount(deviation(ratios)/mean(ratios), 0)
	}
	s.measureLimp(r, from, ratios, se)
	half := crowdHalf(len(ratios))
	if len(ratios) == 2 && !r.upper {
		half = 1
	}
	if half > 0 {
		front, back := mean(ratios[:half]), mean(ratios[len(ratios)-half:])
		r.Crowd = amount(front/back, se*math.Sqrt2/math.Sqrt(float64(half)))
	}
	if from > 0 {
		if e, ok := s.late(r.onsets[from]); ok {
			if start, ok := s.late(r.onsets[0]); ok {
				r.Held = amount(e-start, s.spread*math.Sqrt2)
			}
		}
	}
	s.measureLast(r, from, to, ratios, se)
}

// quickScatter estimates the scatter of one interval's ratio: at least a
// student's usual one, or what the intervals of the same kind show among
// themselves (every second one, so that a limp is not taken for scatter).
func quickScatter(ratios []float64) float64 {
	usual := 0.15
	var d []float64
	for k := 2; k < len(ratios); k++ {
		d = append(d, (ratios[k]-ratios[k-2])/mean(ratios))
	}
	if len(d) >= 3 {
		sum := 0.0
		for _, v := range d {
			sum += v * v
		}
		usual = math.Max(usual, math.Sqrt(sum/float64(len(d))/2))
	}
	return usual
}

// measureRate reads the speed off the strokes themselves where their number
// is not the planned one.
func (s *side) measureRate(r *OrnamentResult) {
	inside := s.window(r)
	if len(inside) < 3 {
		return
	}
	gaps := s.gaps(inside)
	r.Rate = amount(1000/median(gaps), 0)
	r.Uneven = amount(robustDeviation(gaps)/median(gaps), 0)
}

// gaps returns the intervals between strokes.
func (s *side) gaps(strokes []int) []float64 {
	var gaps []float64
	for k := 1; k < len(strokes); k++ {
		gaps = append(gaps, s.strokes[strokes[k]].at-s.strokes[strokes[k-1]].at)
	}
	return gaps
}

// crowdHalf returns how many intervals at either end to compare, so that both
// ends hold as many upper as lower notes and a limp does not look like crowding.
func crowdHalf(n int) int {
	switch {
	case n < 3:
		return 0
	case n%2 == 1:
		return (n - 1) / 2
	case n/2%2 == 0:
		return n / 2
	}
	return n/2 - 1
}

// measureLimp compares each note with its two neighbours, so that a trill
// that gets quicker does not look like one that limps. One note out of place
// stretches one interval and shrinks the next, so the errors of neighbouring
// comparisons add up instead of averaging out.
//
// Without a note above the principal there is no upper note to limp:
// whether its notes are alike is left to their scatter and crowding.
func (s *side) measureLimp(r *OrnamentResult, from int, ratios []float64, se float64) {
	if !r.upper {
		return
	}
	upper := func(k int) bool {
		k += from
		return s.onsets[r.onsets[k]].Degree > s.onsets[r.onsets[k+1]].Degree
	}
	if len(ratios) == 2 && upper(0) != upper(1) {
		v := ratios[0] / ratios[1]
		if upper(1) {
			v = 1 / v
		}
		r.Limp = amount(v, se*math.Sqrt(3))
		return
	}
	var logs []float64
	for k := 1; k+1 < len(ratios); k++ {
		if upper(k) == upper(k-1) || upper(k) == upper(k+1) {
			continue
		}
		v := math.Log(ratios[k]) - math.Log(ratios[k-1]*ratios[k+1])/2
		if !upper(k) {
			v = -v
		}
		logs = append(logs, v)
	}
	if len(logs) > 0 {
		r.Limp = amount(math.Exp(mean(logs)), se*math.Sqrt(8/(2.2+float64(len(logs)))))
	}
}

// measureLast reads a turn whose three quick notes come as two quick and one slow.
func (s *side) measureLast(r *OrnamentResult, from, to int, ratios []float64, se float64) {
	turn := to-from == 2 || to-from == 3
	for k := from; k+1 < to && turn; k++ {
		a, b := s.onsets[r.onsets[k]].Degree, s.onsets[r.onsets[k+1]].Degree
		turn = a != b && (k > from || (a-b)*(b-s.onsets[r.onsets[k+2]].Degree) > 0)
	}
	if !turn {
		return
	}
	third := 0.0
	if to-from == 3 {
		third = ratios[2]
	} else {
		// The third interval runs to the landing.
		e, ok := s.late(r.landing)
		before, ok2 := s.late(r.onsets[to])
		if !ok || !ok2 || s.planned(r, to) > heldRatio*s.planned(r, to-1) {
			return
		}
		third = (s.planned(r, to) + e - before) / s.planned(r, to)
	}
	r.Last = amount(third/((ratios[0]+ratios[1])/2), se*1.25)
}
