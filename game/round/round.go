package round

import (
	"agremens/realize/tap"
	"agremens/synth/clock"
)

// State is where a round stands. The words are those of the page's data-state.
type State string

// States of a round.
const (
	Ready     State = "ready"
	Counting  State = "counting"
	Listening State = "listening"
	Tapping   State = "tapping"
	Result    State = "result"
)

// Clock tells when a frame of the sound is heard, in milliseconds of the
// page's time. ok is false while it does not know yet.
type Clock interface {
	HeardAt(frame float64) (ms float64, ok bool)
	FrameAt(ms float64) (frame float64, ok bool)
	// Gaps counts the holes in the sound so far, Jumps the leaps of the device.
	Gaps() int
	Jumps() int
	// Doubtful lists the times around them.
	Doubtful() []clock.Span
}

// How long a round waits for late taps after its end, and how long it waits
// before it fixes a note's heard time, in milliseconds.
const (
	lateMS   = 400
	settleMS = 500
)

// Round follows one plan from start to result. Make one with [Start].
type Round struct {
	plan  *Plan
	start int64 // engine frame of the plan's frame 0
	next  *joined
	state State

	taps  []tap.Tap
	down  map[string]int // taps whose key is still down, by the key
	heard []float64      // heard times of the wants so far, passes of a repeat included

	wants    []tap.Want // as judged
	made     []tap.Tap  // as judged
	doubtful []tap.Span // the times that were not

	gaps, jumps   int // before the start
	holes, stalls int // since
	lead          *float64
	result        *tap.Result
}

// Start returns a running round whose frame 0 stands at an engine frame. lead
// is the player's calibrated lead in milliseconds, nil where unknown.
func Start(p *Plan, engineFrame int64, c Clock, lead *float64) *Round {
	return &Round{plan: p, start: engineFrame, state: Counting, lead: lead, gaps: c.Gaps(), jumps: c.Jumps()}
}

// State returns where the round stands.
func (r *Round) State() State { return r.state }

// Plan returns what the round plays.
func (r *Round) Plan() *Plan { return r.plan }

// Gaps returns how many holes the sound had since the start.
func (r *Round) Gaps() int { return r.holes }

// Jumps returns how often the sound device moved against the page's time
// since the start, without a hole in the sound.
func (r *Round) Jumps() int { return r.stalls }

// Result returns the judged result once the state is [Result]; a round that
// only listened has none.
func (r *Round) Result() *tap.Result { return r.result }

// Tick moves the round on to now and returns its state.
func (r *Round) Tick(now float64, c Clock) State {
	if r.state == Ready || r.state == Result {
		return r.state
	}
	r.holes, r.stalls = c.Gaps()-r.gaps, c.Jumps()-r.jumps
	r.fixHeard(now, c)
	frame, ok := c.FrameAt(now)
	if !ok {
		return r.state
	}
	r.follow(frame)
	at := frame - float64(r.start)
	switch {
	case at < float64(r.plan.Lead):
		r.state = Counting
	case r.plan.Settings.Tap == NoHand:
		r.state = Listening
	default:
		r.state = Tapping
	}
	if late := lateMS * float64(r.plan.Rate) / 1000; !r.plan.Sequence.Loop && at > float64(r.plan.Sequence.Length)+late {
		r.finish(now, c)
	}
	return r.state
}

// Place returns where the round stands in the passage at now.
func (r *Round) Place(now float64, c Clock) (Place, bool) {
	frame, ok := c.FrameAt(now)
	if !ok {
		return Place{}, false
	}
	return r.plan.Place(frame - float64(r.start)), true
}

// Stop ends the round at now: a tapping round is judged on what was heard
// until then.
func (r *Round) Stop(now float64, c Clock) {
	if r.state == Tapping && len(r.heard) > 0 {
		r.finish(now, c)
		return
	}
	r.state = Ready
}

// fixHeard writes down when each want was heard, half a second after it was:
// by then the clock has seen both sides of it, and a later leap of the device
// cannot change it.
func (r *Round) fixHeard(now float64, c Clock) {
	for {
		frame, ok := r.wantFrame(len(r.heard))
		if !ok {
			return
		}
		at, ok := c.HeardAt(float64(r.start + frame))
		if !ok || at > now-settleMS {
			return
		}
		r.heard = append(r.heard, at)
	}
}

// wantFrame returns the frame of the i-th want, counted through the passes of
// a repeated plan.
func (r *Round) wantFrame(i int) (int64, bool) {
	n := len(r.plan.Frames)
	if n == 0 {
		return 0, false
	}
	q := &r.plan.Sequence
	if !q.Loop {
		if i >= n {
			return 0, false
		}
		return r.plan.Frames[i], true
	}
	return r.plan.Frames[i%n] + int64(i/n)*(q.Length-q.LoopStart), true
}

func (r *Round) finish(now float64, c Clock) {
	r.state = Result
	if r.plan.Settings.Tap == NoHand {
		return
	}
	for {
		frame, ok := r.wantFrame(len(r.heard))
		if !ok {
			break
		}
		at, ok := c.HeardAt(float64(r.start + frame))
		if !ok || at > now {
			break
		}
		r.heard = append(r.heard, at)
	}
	wants := make([]tap.Want, len(r.heard))
	for i, at := range r.heard {
		w := r.plan.Wants[i%len(r.plan.Wants)]
		if w.Until > 0 {
			w.Until += at - w.At
		}
		w.At = at
		wants[i] = w
	}
	for _, d := range c.Doubtful() {
		r.doubtful = append(r.doubtful, tap.Span{From: d.From, To: d.To})
	}
	r.made = r.judged(wants)
	wants = r.keyed(wants, r.made)
	r.wants = wants
	if !holds(r.made) {
		for i := range wants {
			wants[i].Until = 0
		}
	}
	r.judge()
}
