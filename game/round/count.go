package round

import "agremens/synth"

// Count is the beat that is being counted before the first measure, 1 the first
// of its bar; ok is false once the music has begun, and where nothing is
// counted.
func (r *Round) Count(now float64, c Clock) (beat int, ok bool) {
	frame, known := c.FrameAt(now)
	at := int64(frame) - r.start
	if !known || at >= r.plan.Lead {
		return 0, false
	}
	for _, click := range r.plan.Sequence.Clicks {
		switch {
		case click.At > at || click.At >= r.plan.Lead:
		case click.Kind == synth.Strong:
			beat = 1
		case click.Kind == synth.Beat:
			beat++
		}
	}
	return beat, beat > 0
}
