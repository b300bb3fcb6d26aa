// Package clock tells when a frame of our sound is heard, in milliseconds of
// performance.now(), and back.
//
// Two things are put together. Marks from the audio thread say exactly which
// of our frames stands at which frame of the audio context. Samples taken on
// the main thread say, with jitter, where the context's time stands in
// performance.now(). Nothing here reads a clock: all times are arguments.
package clock

// Mark says that our frame Played stands at the context's frame Context.
type Mark struct {
	Context float64 // frames of the audio context
	Played  float64 // frames of ours played before it
	Gap     float64 // frames of silence so far for want of ours
	Left    float64 // frames of ours waiting
}

// Sample is one look at the audio context from the main thread.
type Sample struct {
	Now     float64 // performance.now() in ms
	Current float64 // currentTime in s
	// OutContext (s) and OutPerformance (ms) are getOutputTimestamp's; zeros
	// where there is none.
	OutContext, OutPerformance float64
	OutputLatency              float64 // s; 0 where none is told
	BaseLatency                float64 // s
}

// Span is a stretch of performance.now() time in ms.
type Span struct{ From, To float64 }

// Clock estimates. The zero value is not useful; see New.
type Clock struct {
	rate  float64
	exact bool // marks come from the audio thread
	extra float64
	lead  float64

	marks   []segment
	last    Mark
	marked  bool
	moving  bool
	gaps    int
	jumps   int
	doubt   []Span
	cleanAt float64 // performance.now() since which nothing was amiss
	paused  float64 // performance.now() when what ran was stopped, 0 else

	line line
}

// segment is a stretch in which our frames and the context's run together.
type segment struct {
	from   float64 // first of our frames in it
	offset float64 // context frame - our frame
}

// New returns a clock for a context of so many frames a second.
func New(rate float64) *Clock {
	return &Clock{rate: rate, exact: true}
}

// Inexact tells the clock that marks are guesses, as without an AudioWorklet:
// what is heard can be shown but not judged.
func (c *Clock) Inexact() { c.exact = false }

// Padding tells how many frames not of our making were played before our
// first, which marks count in.
func (c *Clock) Padding(frames float64) { c.lead = frames }

// Extra sets the ms by which sound is heard later than the browser tells:
// from calibration.
func (c *Clock) Extra(ms float64) { c.extra = ms }

// Reset forgets everything but the rate, the exactness and the extra delay.
func (c *Clock) Reset() {
	*c = Clock{rate: c.rate, exact: c.exact, extra: c.extra, lead: c.lead}
}

// State tells that the context began or ceased to run. What was known of its
// time no longer holds.
//
// A pause of what was running counts as a jump: what was played into it is
// not judged.
func (c *Clock) State(now float64, running bool) {
	switch {
	case !running && c.moving:
		c.jumps++
		c.paused = now
	case running && c.paused > 0:
		c.doubt = append(c.doubt, Span{c.paused - 1000, now + settlingMS})
		c.paused = 0
	}
	c.line.cut()
	c.moving = false
	c.cleanAt = now
	if !running {
		c.marked = false
	}
}

// settlingMS is how long a device may lose or move sound after it began.
const settlingMS = 1500

// Disturb tells that outputs of sound came or went: the delay may be another.
func (c *Clock) Disturb(now float64) {
	if !c.moving {
		return
	}
	c.jumps++
	c.cleanAt = now
	c.line.cut()
	c.doubt = append(c.doubt, Span{now - 1000, now + settlingMS})
}

// Mark takes a report of the audio thread. now is when it came, in ms.
func (c *Clock) Mark(m Mark, now float64) {
	if c.marked {
		if m.Context > c.last.Context && m.Played > c.last.Played {
			c.moving = true
		}
		if m.Gap > c.last.Gap {
			c.gap(m, now)
		}
	} else {
		c.cleanAt = now
	}
	offset := m.Context - m.Played
	if n := len(c.marks); n == 0 || c.marks[n-1].offset != offset {
		c.marks = append(c.marks, segment{m.Played, offset})
	}
	c.last, c.marked = m, true
}

// gap notes a hole in the sound. Its place is known from the frames that
// were missing; the span reaches a little to either side.
func (c *Clock) gap(m Mark, now float64) {
	c.gaps++
	c.cleanAt = now
	ms := func(frames float64) float64 { return frames / c.rate * 1000 }
	end := now
	if offset, ok := c.line.at(m.Context / c.rate); ok {
		end = ms(m.Context) + offset + c.extra
	}
	c.doubt = append(c.doubt, Span{end - ms(m.Gap-c.last.Gap) - doubtMS, end + doubtMS})
}

// doubtMS is how far around a gap or jump nothing should be judged.
const doubtMS = 60

// Sample takes a look at the context. Call it about every 50 ms.
func (c *Clock) Sample(s Sample) {
	if jump := c.line.add(s); jump {
		c.jumps++
		c.cleanAt = s.Now
		c.doubt = append(c.doubt, Span{s.Now - 1000, s.Now + doubtMS})
	}
}

// HeardAt returns when our frame is heard. For frames of the past it answers
// from what was known around their time, so that it may be asked afterwards.
// ok is false until marks move.
func (c *Clock) HeardAt(frame float64) (ms float64, ok bool) {
	if len(c.marks) == 0 || !c.moving {
		return 0, false
	}
	context := (frame + c.lead + c.segmentOf(frame+c.lead).offset) / c.rate
	offset, ok := c.line.at(context)
	return context*1000 + offset + c.extra, ok
}

// FrameAt returns which of our frames is heard at a time.
func (c *Clock) FrameAt(ms float64) (frame float64, ok bool) {
	if len(c.marks) == 0 || !c.moving {
		return 0, false
	}
	offset, ok := c.line.latest()
	if !ok {
		return 0, false
	}
	var context float64
	for range 2 { // the offset depends a little on where it is asked
		context = (ms - c.extra - offset) / 1000
		offset, _ = c.line.at(context)
	}
	context = (ms - c.extra - offset) / 1000 * c.rate
	for i := len(c.marks) - 1; i >= 0; i-- {
		s := c.marks[i]
		if played := context - s.offset; played >= s.from || i == 0 {
			if i+1 < len(c.marks) { // within a gap the last frame stands
				played = min(played, c.marks[i+1].from)
			}
			return played - c.lead, true
		}
	}
	return 0, false
}

func (c *Clock) segmentOf(played float64) segment {
	for i := len(c.marks) - 1; i > 0; i-- {
		if played >= c.marks[i].from {
			return c.marks[i]
		}
	}
	return c.marks[0]
}

// Gaps counts the holes in the sound since the first mark.
func (c *Clock) Gaps() int { return c.gaps }

// Jumps counts the times the context's time moved against performance.now().
func (c *Clock) Jumps() int { return c.jumps }

// Doubtful lists the times around gaps and jumps, in which nothing should be
// judged.
func (c *Clock) Doubtful() []Span { return append([]Span(nil), c.doubt...) }

// Status tells how far the clock can be trusted.
type Status struct {
	// Ready: our sound runs. Sure: for two seconds nothing was amiss, enough
	// samples agree, and marks are exact, so that taps can be judged.
	Ready, Sure bool
	// LatencyTold: the browser tells how late its output is heard. Without
	// it only calibration can.
	LatencyTold bool
	// Exact is false where marks are guesses.
	Exact bool
	// SpreadMS is the median distance of the samples from their median.
	SpreadMS float64
	// LatencyMS is the part of the estimate the browser told.
	LatencyMS float64
}

// Status returns the present trust.
func (c *Clock) Status() Status {
	s := Status{Ready: c.moving, Exact: c.exact, LatencyTold: c.line.told()}
	s.SpreadMS = c.line.spread()
	s.LatencyMS = c.line.latency()
	s.Sure = c.moving && c.exact && c.line.settled() && c.line.now-c.cleanAt >= 2000
	return s
}
