package tap

import "math"

const (
	// leadLeast is how many plain notes teach a lead.
	leadLeast = 6
	// spreadGuess stands for a player's spread where too few plain notes
	// show it: untrained tappers spread 4–6 % of the interval, 20–35 ms at
	// 500 ms (Repp 2005, from memory).
	spreadGuess = 25.0
	// spreadLeast is the just noticeable displacement of one tone in a quick
	// row, 6 ms (Friberg and Sundberg 1995): nobody is trusted to be steadier.
	spreadLeast = 6.0
	// A lead that moves less than this over the round is no drift.
	driftLeast = 60.0
)

// learnLead works out how far the hand's plain notes stand from what is
// heard. Ornament onsets never count, or a trill that is always late would be
// forgiven.
//
// Notes in the two beats after an ornament are left out where enough others
// remain: a player may be running ahead there.
func (s *side) learnLead(calibrated *float64, beat float64) {
	allAt, all := s.plainErrors(func(int) bool { return true })
	at, errs := s.plainErrors(func(i int) bool { return !s.inWake(i, beat) })
	if len(errs) < leadLeast {
		at, errs = allAt, all
	}
	s.spread = spreadGuess
	if len(errs) < leadLeast {
		s.lead = LeadInfo{Hand: s.hand, N: len(errs)}
		if calibrated != nil && finite(*calibrated) {
			s.lead.MS, s.lead.From, s.lead.SE = *calibrated, "calibration", spreadGuess/3
		}
		return
	}
	l := LeadInfo{Hand: s.hand, From: "plain", N: len(errs), mid: (at[0] + at[len(at)-1]) / 2}
	l.Drift = drift(allAt, all)
	rest := make([]float64, len(errs))
	for i := range errs {
		rest[i] = errs[i] - l.Drift*(at[i]-l.mid)/second
	}
	l.MS = midMean(rest)
	s.spread, s.jitter = spreadOf(allAt, all, l.Drift)
	// The middle half's mean is a little less sharp than the whole's.
	l.SE = 1.1 * s.spread / math.Sqrt(float64(len(rest)))
	s.lead = l
}

// spreadOf returns the standard deviation of plain errors around their lead,
// and that of neighbours among themselves, which slow waves do not enlarge.
// Six notes show a spread badly, so the larger of two estimates stands.
func spreadOf(at, errs []float64, drift float64) (spread, jitter float64) {
	around := make([]float64, len(errs))
	var steps []float64
	for i := range errs {
		around[i] = errs[i] - drift*at[i]/second
		if i > 0 {
			steps = append(steps, (around[i]-around[i-1])/math.Sqrt2)
		}
	}
	estimate := func(x []float64) float64 { return math.Max(robustDeviation(x), 0.85*deviation(x)) }
	return math.Max(spreadLeast, estimate(around)), estimate(steps)
}

// drift returns by how much errors change in a second, ms, where that is
// clearly more than chance; else 0.
func drift(at, errs []float64) float64 {
	if len(errs) < leadLeast+2 {
		return 0
	}
	b := halfSlope(at, errs)
	around := make([]float64, len(errs))
	for i := range errs {
		around[i] = errs[i] - b*at[i]
	}
	length := at[len(at)-1] - at[0]
	if math.Abs(b)*length < driftLeast || math.Abs(b) < 4*slopeError(at, robustDeviation(around)) {
		return 0
	}
	return b * second
}

func (s *side) plainErrors(use func(i int) bool) (at, errs []float64) {
	for i, o := range s.onsets {
		if o.plain() && s.hit[i] >= 0 && use(i) {
			at, errs = append(at, o.At), append(errs, s.err(i))
		}
	}
	return at, errs
}

// inWake reports whether an onset lies in the two beats after an ornament.
func (s *side) inWake(i int, beat float64) bool {
	for k := i - 1; k >= 0 && s.onsets[i].At-s.onsets[k].At < 2*beat+sameOnset; k-- {
		if s.onsets[k].Ornament != "" {
			return true
		}
	}
	return false
}

// robustDeviation estimates a standard deviation from the median distance to
// the median, so that a few strays do not hide a fault.
func robustDeviation(x []float64) float64 {
	m := median(x)
	d := make([]float64, len(x))
	for i, v := range x {
		d[i] = math.Abs(v - m)
	}
	return 1.4826 * median(d)
}
