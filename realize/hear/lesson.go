package hear

// Lesson shows the ear recordings whose truth is known, so that a trainer
// sees exactly what the ear will see. It is for cmd/ear alone.
type Lesson struct {
	// Rate of the samples, Hz; Cents is how the instrument is tuned.
	Rate, Cents float64
	// Ask returns the pitches to look at in a frame at a time in seconds.
	Ask func(at float64) []int
	// See is given what there is to see of a pitch; the slice is written anew.
	See func(at float64, key int, view []float32)
}

// Views is the length of what [Lesson.See] is given, Units how many hidden
// units the network has.
const (
	Views = features
	Units = hiddenUnits
)

// FrameSeconds is the time from frame to frame at a rate.
func FrameSeconds(rate float64) float64 { return 2 * hopA / rate }

// Show runs over the samples.
func (l Lesson) Show(samples []float32) {
	s := newSpectrum(l.Rate)
	keys := newKeyboard(l.Cents)
	var view [features]float32
	s.feed(samples, func() {
		now := s.frames - 1 - lookAhead
		if now < 0 {
			return
		}
		at := s.seconds(float64(now))
		for _, k := range l.Ask(at) {
			if k < lowestKey || k > highestKey || s.rise(&keys[k-lowestKey], now) < quiet {
				continue
			}
			s.features(keys, k, now, &view)
			l.See(at, k, view[:])
		}
	})
}
