package round

import (
	"strconv"
	"strings"

	"agremens/realize/perf"
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

// passMark stands between an ornament's id and the pass of a repeat.
const passMark = "/"

// OrnamentID returns the ornament's id of the reading from that of a want.
func OrnamentID(want string) string {
	id, _, _ := strings.Cut(want, passMark)
	return id
}

// Round follows one plan from start to result. Make one with [Start].
type Round struct {
	plan  *Plan
	start int64 // engine frame of the plan's frame 0
	next  *joined
	state State

	taps  []tap.Tap
	heard []float64 // heard times of the wants so far, passes of a repeat included

	wants []tap.Want // as judged
	made  []tap.Tap  // as judged

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

// Quarters returns the place in the passage heard at now.
func (r *Round) Quarters(now float64, c Clock) (float64, bool) {
	frame, ok := c.FrameAt(now)
	if !ok {
		return 0, false
	}
	return r.plan.Quarters(frame - float64(r.start)), true
}

// Tap takes a tap at a time in milliseconds of the page, the event's own.
func (r *Round) Tap(at float64, hand perf.Hand) {
	if r.plan.Settings.Tap == NoHand || r.state != Counting && r.state != Tapping {
		return
	}
	switch r.plan.Settings.Tap {
	case RightHand:
		hand = perf.Right
	case LeftHand:
		hand = perf.Left
	}
	r.taps = append(r.taps, tap.Tap{At: at, Hand: hand})
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
		wants[i] = r.plan.Wants[i%len(r.plan.Wants)]
		wants[i].At = at
		// The same ornament in a later pass is judged by itself.
		if pass := i / len(r.plan.Wants); pass > 0 && wants[i].Ornament != "" {
			wants[i].Ornament += passMark + strconv.Itoa(pass+1)
		}
	}
	var doubtful []tap.Span
	for _, d := range c.Doubtful() {
		doubtful = append(doubtful, tap.Span{From: d.From, To: d.To})
	}
	r.wants, r.made = wants, r.judged(wants)
	result := tap.Judge(r.wants, r.made, tap.Options{
		Lead: r.lead, BeatMS: r.plan.BeatMS, Gaps: doubtful, Alone: r.plan.Alone,
	})
	r.result = &result
}

// judged leaves out taps made while counting in: up to half a beat before the
// first onset, at most a third of a second.
func (r *Round) judged(wants []tap.Want) []tap.Tap {
	if len(wants) == 0 {
		return nil
	}
	from := wants[0].At - min(r.plan.BeatMS/2, 333)
	var taps []tap.Tap
	for _, t := range r.taps {
		if t.At >= from {
			taps = append(taps, t)
		}
	}
	return taps
}

// Taps returns every tap so far, counting in included.
func (r *Round) Taps() []tap.Tap { return r.taps }
