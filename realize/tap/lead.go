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
	s.scatter, s.jitter = spreadOf(allAt, s.levelled(beat), l.Drift)
	// The middle half's mean is a little less sharp than the whole's.
	l.SE = 1.1 * s.scatter / math.Sqrt(float64(len(rest)))
	s.spread = cautious(s.scatter, len(all))
	s.lead = l
}

// usualLead is how far people go ahead of another hand or a beat that they
// hear: 20 to 80 ms untrained, 10 to 30 trained (Repp 2005, from memory).
const usualLead = -40.0

// expectation is how far a hand's taps are likely to stand from what is heard.
type expectation struct {
	ms    float64
	known bool
}

// expect returns what a hand's lead is likely to be, from the other hand
// where it taps, the calibration, or people's usual lead where the other hand
// sounds.
func expect(o Options, other *side) expectation {
	switch {
	case other.lead.From == "plain":
		return expectation{other.lead.MS, true}
	case o.Lead != nil && finite(*o.Lead):
		return expectation{*o.Lead, true}
	}
	return expectation{usualLead, !o.Alone}
}

// reconsider learns the lead from the ornaments' starts where these stand
// where a lead is expected and the plain notes that follow them come late. Who
// starts every ornament with the other hand and hesitates after it would
// otherwise be told that the ornaments come early.
func (s *side) reconsider(e expectation) {
	if !e.known || s.lead.From != "plain" {
		return
	}
	starts, after := s.startErrors()
	if len(starts) < 2 || len(after) < 2 {
		return
	}
	start, late := median(starts), median(after)
	var around []float64
	for _, e := range starts {
		around = append(around, e-start)
	}
	for _, e := range after {
		around = append(around, e-late)
	}
	scatter := math.Max(spreadLeast, robustDeviation(around))
	apart := scatter * math.Sqrt(1/float64(len(starts))+1/float64(len(after)))
	if late-start < math.Max(nameMS, 2.5*apart) || math.Abs(start-e.ms) > math.Abs(s.lead.MS-e.ms) {
		return
	}
	s.scatter, s.jitter, s.spread = scatter, math.Min(s.jitter, winsorized(around)), cautious(scatter, len(around))
	s.lead = LeadInfo{Hand: s.hand, From: "ornaments", MS: midMean(starts), N: len(starts),
		SE: 1.1 * scatter / math.Sqrt(float64(len(starts)))}
}

// startErrors returns the errors of the ornaments' first notes, with those of
// the plain notes before any ornament, and those of the plain notes after one.
func (s *side) startErrors() (starts, after []float64) {
	seen := false
	for i, o := range s.onsets {
		first := o.Ornament != "" && (i == 0 || s.onsets[i-1].Ornament != o.Ornament)
		seen = seen || o.Ornament != ""
		switch {
		case s.hit[i] < 0:
		case first, o.plain() && !seen:
			starts = append(starts, s.err(i))
		case o.plain():
			after = append(after, s.err(i))
		}
	}
	return starts, after
}

// spreadOf returns the standard deviation of plain errors around their lead.
// Six notes show a spread badly, so the larger of two estimates stands. The
// jitter is the sharper and lower one by which a player is called unsteady: the
// deviation without strays, or that of neighbours among themselves, which slow
// waves do not enlarge.
func spreadOf(at, errs []float64, drift float64) (spread, jitter float64) {
	around := make([]float64, len(errs))
	var steps []float64
	for i := range errs {
		around[i] = errs[i] - drift*at[i]/second
		if i > 0 {
			steps = append(steps, (around[i]-around[i-1])/math.Sqrt2)
		}
	}
	return math.Max(spreadLeast, estimate(around)), math.Min(winsorized(around), winsorized(steps)/0.95)
}

func estimate(x []float64) float64 { return math.Max(robustDeviation(x), 0.85*deviation(x)) }

// winsorized returns the standard deviation with strays drawn in, so that a
// stumble makes nobody unsteady. It is half again as sharp as the robust one.
func winsorized(x []float64) float64 {
	m, reach := median(x), 2.5*robustDeviation(x)
	drawn := make([]float64, len(x))
	for i, v := range x {
		drawn[i] = math.Min(math.Max(v, m-reach), m+reach)
	}
	return deviation(drawn)
}

// cautious widens a spread seen in few notes: about as Student's t does at
// three standard errors.
func cautious(spread float64, n int) float64 { return spread * (1 + 3/float64(n)) }

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

// levelled returns the plain errors with those after ornaments moved to where
// the others lie: who is late there need not scatter more.
func (s *side) levelled(beat float64) []float64 {
	_, in := s.plainErrors(func(i int) bool { return s.inWake(i, beat) })
	_, out := s.plainErrors(func(i int) bool { return !s.inWake(i, beat) })
	by := 0.0
	if len(in) >= leadLeast/2 && len(out) >= leadLeast/2 {
		by = median(in) - median(out)
	}
	var all []float64
	for i, o := range s.onsets {
		if !o.plain() || s.hit[i] < 0 {
			continue
		}
		e := s.err(i)
		if s.inWake(i, beat) {
			e -= by
		}
		all = append(all, e)
	}
	return all
}

// inWake reports whether an onset lies in the two beats from an ornament's
// landing on.
func (s *side) inWake(i int, beat float64) bool {
	for k := i; k > 0 && s.onsets[i].At-s.onsets[k].At < 2*beat+sameOnset; k-- {
		if s.onsets[k-1].Ornament != "" {
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
