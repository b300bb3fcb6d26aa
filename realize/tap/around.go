package tap

import "math"

// measureAfter reads the tempo of the two beats after an ornament from the
// hand's strokes against what is heard. A player may be back in time with the
// last of them, so one note does not decide.
func (s *side) measureAfter(r *OrnamentResult, beat float64) {
	if r.landing < 0 || r.fermata {
		return
	}
	from := s.onsets[r.landing].At
	var at, errs []float64
	for i := r.landing; i < len(s.onsets) && s.onsets[i].At <= from+2*beat+sameOnset; i++ {
		o := s.onsets[i]
		if s.hit[i] >= 0 && (o.Ornament == "" || i == r.landing) {
			e, _ := s.late(i)
			at, errs = append(at, o.At), append(errs, e)
		}
		if o.Fermata || o.Ornament != "" && i > r.landing {
			break
		}
	}
	if len(at) < 2 || at[len(at)-1]-at[0] < 0.9*beat {
		return
	}
	// The median of slopes is about a fifth less sharp than a fitted line.
	r.After = amount(1+medianSlope(at, errs), 1.2*slopeError(at, s.spread))
}

// measureBehind reads how late the landing and the plain notes of the two
// beats after an ornament are, and whether they stay so: who only stumbles over
// the exit is back in time in the later half of them.
func (s *side) measureBehind(r *OrnamentResult, beat float64) {
	if r.landing < 0 || r.fermata || !s.lead.Known() {
		return
	}
	from := s.onsets[r.landing].At
	var errs []float64
	for i := r.landing; i < len(s.onsets) && s.onsets[i].At < from+2*beat-sameOnset; i++ {
		o := s.onsets[i]
		if o.Ornament != "" {
			break
		}
		if e, ok := s.late(i); ok {
			errs = append(errs, e)
		}
		if o.Fermata {
			break
		}
	}
	if len(errs) < 2 {
		return
	}
	half := len(errs) / 2
	r.Behind = amount(mean(errs), s.spread/math.Sqrt(float64(len(errs))))
	r.still = amount(mean(errs[len(errs)-half:]), s.spread/math.Sqrt(float64(half)))
}

// measureWait reads what length the other hand gave to the time under an
// ornament, from its last stroke at or before the start to its first at or
// after the landing.
func (r *OrnamentResult) measureWait(s, other *side, beat float64) {
	if r.landing < 0 || r.fermata {
		return
	}
	from, to := -1, -1
	start, end := s.onsets[r.onsets[0]].At, s.onsets[r.landing].At
	for i := max(0, other.before(start+sameOnset)); i < len(other.onsets); i++ {
		o := other.onsets[i]
		if other.hit[i] < 0 || o.Fermata {
			continue
		}
		if o.At <= start+sameOnset || from < 0 {
			from = i
		}
		if to = i; o.At >= end-sameOnset {
			break
		}
	}
	if from < 0 || to <= from {
		return
	}
	length := other.onsets[to].At - other.onsets[from].At
	// A stretch is the ornament's only where it fills most of it.
	if length < 0.3*beat || length > 1.6*(end-start) && length > 1.1*beat {
		return
	}
	a, _ := other.late(from)
	b, _ := other.late(to)
	// Waiting widens the hand's own spread; it is not to excuse itself.
	spread := math.Min(other.spread, usualSpread*beat)
	r.Wait = amount(1+(b-a)/length, spread*math.Sqrt2/length)
}

// againstOther measures the start against the other hand's stroke of the same
// moment, each hand from its own lead.
func (r *OrnamentResult) againstOther(s, other *side) {
	if !r.Start.Known || !other.lead.Known() {
		return
	}
	at := s.onsets[r.onsets[0]].At
	i := other.before(at + sameOnset)
	if i < 0 || at-other.onsets[i].At > sameOnset {
		return
	}
	if e, ok := other.late(i); ok {
		r.Start = amount(r.Start.V-e, math.Hypot(s.spread, other.spread))
	}
}

// together compares the hands where both have a plain note.
func together(right, left *side) Together {
	var apart []float64
	for i, o := range right.onsets {
		k := left.before(o.At + sameOnset)
		if k < 0 || o.At-left.onsets[k].At > sameOnset || !o.plain() || !left.onsets[k].plain() ||
			right.hit[i] < 0 || left.hit[k] < 0 {
			continue
		}
		apart = append(apart, right.strokes[right.hit[i]].at-left.strokes[left.hit[k]].at)
	}
	return Together{len(apart), mean(apart), deviation(apart)}
}

// judgeClean applies the written standard to one playing.
func (r *OrnamentResult) judgeClean(beat float64) {
	limit := cleanLimit(beat)
	within := func(a Amount, limit float64) bool { return !a.Known || math.Abs(a.V) <= limit }
	r.Clean = r.Tapped > 0 && (r.Free && r.Tapped >= 2 || r.Tapped == r.Wanted) &&
		!r.BeforeBeat && !r.NoEnding &&
		within(r.Start, limit) && within(r.Landing, limit) &&
		(!r.Uneven.Known || r.Uneven.V <= cleanUneven) &&
		(!r.Limp.Known || r.Limp.V >= cleanLimp && r.Limp.V <= 1/cleanLimp) &&
		(!r.Wait.Known || math.Abs(r.Wait.V-1) <= cleanWait)
}
