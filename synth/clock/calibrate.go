package clock

import "math"

// Calibration is what a run of taps with steady clicks, or with flashes, says
// about the delay of an output. A tap answers to what is heard (or seen), so
// the delay of the device and the tapper's own lead come out as one sum: it
// is right for judging the same tapper on the same output, and tells outputs
// apart. It is no measurement of the device alone.
type Calibration struct {
	// OffsetMS is the median of tap - click, late positive.
	OffsetMS float64
	// SpreadMS is the standard deviation of the taps used, estimated from
	// their median distance; ErrorMS the standard error of OffsetMS.
	SpreadMS, ErrorMS float64
	// Used and Rejected count taps; Missed the clicks without one.
	Used, Rejected, Missed int
	// Trust says whether OffsetMS may be kept.
	Trust Trust
}

// Trust is how sure a calibration is.
type Trust int

const (
	// Unknown: too few taps, or not in step with the clicks. Ask again.
	Unknown Trust = iota
	// Rough: good enough to correct a long delay, not to judge by.
	Rough
	// Sure: a standard error of at most 7 ms.
	Sure
)

// Limits of a calibration. Untrained tappers spread 20 to 60 ms (published
// ranges), so thirty taps find the median within five to fifteen.
const (
	settling   = 2    // clicks at the start in which the tapper falls in
	fewest     = 8    // taps without which nothing is known
	widestMS   = 90.0 // spread above which the taps are not in step
	sureMS     = 7.0  // standard error that is sure
	earlyShare = 0.35 // of the period: how early a tap may be
	outlierMS  = 60.0 // taps are never rejected closer to the median than this
)

// Calibrate compares taps with the clicks (or flashes) they were made with.
// Both are in ms of performance.now(), in order; clicks stand at the time the
// clock expects them to be heard. Clicks must be steady: with 750 ms between
// them, delays from -260 to +480 ms are found.
func Calibrate(clicks, taps []float64) Calibration {
	if len(clicks) < settling+fewest {
		return Calibration{}
	}
	period := (clicks[len(clicks)-1] - clicks[0]) / float64(len(clicks)-1)
	var c Calibration
	var errors []float64
	next := 0
	for _, click := range clicks[settling:] {
		from, to := click-earlyShare*period, click+(1-earlyShare)*period
		for next < len(taps) && taps[next] < from {
			next++
		}
		if next == len(taps) || taps[next] >= to {
			c.Missed++
			continue
		}
		errors = append(errors, taps[next]-click)
		for next < len(taps) && taps[next] < to {
			if next++; next < len(taps) && taps[next] < to {
				c.Rejected++ // a second tap on one click
			}
		}
	}
	middle, spread := middleOf(errors)
	kept := errors[:0:0]
	for _, e := range errors {
		if math.Abs(e-middle) <= max(outlierMS, 3*spread) {
			kept = append(kept, e)
		} else {
			c.Rejected++
		}
	}
	c.Used = len(kept)
	if c.Used == 0 {
		return c
	}
	c.OffsetMS, c.SpreadMS = middleOf(kept)
	// The median of normal errors is less certain than their mean by √(π/2).
	c.ErrorMS = math.Sqrt(math.Pi/2) * max(c.SpreadMS, 1) / math.Sqrt(float64(c.Used))
	c.Trust = c.trust()
	return c
}

func (c Calibration) trust() Trust {
	heeded := c.Used >= 2*(c.Rejected+c.Missed)
	switch {
	case c.Used < fewest || c.SpreadMS > widestMS || !heeded:
		return Unknown
	case c.ErrorMS > sureMS:
		return Rough
	}
	return Sure
}

// middleOf returns the median and the spread that the median distance from it
// stands for in normal errors.
func middleOf(x []float64) (middle, spread float64) {
	middle = medianOf(x)
	away := make([]float64, len(x))
	for i := range x {
		away[i] = math.Abs(x[i] - middle)
	}
	return middle, 1.4826 * median(away)
}

// LooksWrong reports whether a round's plain notes look as if the delay of
// the output were wrong rather than the player: far from the beat, all on one
// side, and more even than somebody who is really that late or early would
// play. meanMS is signed, late positive; spreadMS their standard deviation.
func LooksWrong(meanMS, spreadMS float64, hits int) bool {
	return hits >= fewest && math.Abs(meanMS) >= 80 && spreadMS <= 45
}
