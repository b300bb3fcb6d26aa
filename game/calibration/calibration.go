// Package calibration is the half minute in which somebody taps with clicks
// and then with flashes, and what is learnt from it: by how much an output's
// sound and picture come later than the browser tells. It is pure; the edge
// plays the clicks, shows the flashes and tells the time and the taps.
package calibration

import (
	"math"

	"agremens/synth"
	"agremens/synth/clock"
)

// Phase is where the procedure stands.
type Phase string

// Phases, in order.
const (
	Clicks  Phase = "clicks"
	Between Phase = "between"
	Flashes Phase = "flashes"
	Done    Phase = "done"
)

// How long it takes: 22 clicks and 20 flashes, together under half a minute.
// Twenty taps find a delay within five to ten milliseconds where the taps
// spread by 20 to 40. With 600 ms between them delays up to 390 ms are found,
// and 1.7 flashes a second stay below the three that may harm (WCAG 2.3.1).
const (
	PeriodMS   = 600.0
	ClickCount = 22
	FlashCount = 20
	FlashMS    = 140.0 // how long one stays

	leadMS   = 1200.0 // silence before the first click
	lateMS   = 500.0  // waited for after the last one
	pauseMS  = 2400.0 // to read what comes next
	settleMS = 400.0  // until a heard time is sure
)

// Clock tells when a frame is heard; see game/round.
type Clock interface {
	HeardAt(frame float64) (ms float64, ok bool)
	Gaps() int
	Jumps() int
}

// Sequence returns the clicks for an engine of so many frames a second.
func Sequence(rate int) synth.Sequence {
	s := synth.Sequence{Length: frameOf(ClickCount, rate)}
	for i := range ClickCount {
		s.Clicks = append(s.Clicks, synth.Click{At: frameOf(i, rate), Kind: synth.Strong})
	}
	return s
}

func frameOf(click, rate int) int64 {
	return int64(math.Round((leadMS + PeriodMS*float64(click)) / 1000 * float64(rate)))
}

// Run is one go through it. Make one with [Start].
type Run struct {
	phase Phase
	rate  int
	start int64 // engine frame of the sequence's frame 0

	heard []float64 // when each click was heard, ms
	taps  [2][]float64
	due   float64   // of the first flash, ms
	shown []float64 // when each flash was drawn, ms

	gaps, jumps int
	stumbled    bool
}

// Start begins with the clicks; [Sequence] stands at an engine frame.
func Start(rate int, engineFrame int64, c Clock) *Run {
	return &Run{phase: Clicks, rate: rate, start: engineFrame, gaps: c.Gaps(), jumps: c.Jumps()}
}

// Phase returns where it stands.
func (r *Run) Phase() Phase { return r.phase }

// Part returns how much of it is done, 0 to 1.
func (r *Run) Part() float64 {
	return float64(len(r.heard)+len(r.shown)) / (ClickCount + FlashCount)
}

// Tick moves on to now, in ms of the page's time.
func (r *Run) Tick(now float64, c Clock) Phase {
	switch r.phase {
	case Clicks:
		r.stumbled = c.Gaps() != r.gaps || c.Jumps() != r.jumps
		for len(r.heard) < ClickCount {
			at, ok := c.HeardAt(float64(r.start + frameOf(len(r.heard), r.rate)))
			if !ok || at > now-settleMS {
				break
			}
			r.heard = append(r.heard, at)
		}
		if n := len(r.heard); n == ClickCount && now > r.heard[n-1]+lateMS {
			r.phase, r.due = Between, now+pauseMS
		}
	case Between:
		if now >= r.due-PeriodMS {
			r.phase = Flashes
		}
	case Flashes:
		if now > r.due+PeriodMS*(FlashCount-1)+lateMS {
			r.phase = Done
		}
	}
	return r.phase
}

// Lit reports whether a flash stands at now, the time of a frame about to be
// drawn, and remembers when each was first drawn.
func (r *Run) Lit(now float64) bool {
	if r.phase != Flashes || now < r.due {
		return false
	}
	n := int((now - r.due) / PeriodMS)
	if n >= FlashCount || now-r.due-PeriodMS*float64(n) > FlashMS {
		return false
	}
	if n >= len(r.shown) {
		r.shown = append(r.shown, now)
	}
	return true
}

// Tap takes a tap at a time in ms.
func (r *Run) Tap(at float64) {
	switch r.phase {
	case Clicks:
		r.taps[0] = append(r.taps[0], at)
	case Flashes:
		r.taps[1] = append(r.taps[1], at)
	}
}

// Result is what the taps say.
type Result struct {
	Sound, Picture clock.Calibration
	// Stumbled: the sound device had a hole or moved, so that the clicks
	// prove nothing.
	Stumbled bool
}

// Result returns what came of it.
func (r *Run) Result() Result {
	res := Result{
		Sound:    clock.Calibrate(r.heard, r.taps[0]),
		Picture:  clock.Calibrate(r.shown, r.taps[1]),
		Stumbled: r.stumbled,
	}
	if r.stumbled {
		res.Sound.Trust = clock.Unknown
	}
	return res
}
