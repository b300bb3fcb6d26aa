package synth

import (
	"fmt"
	"math"
	"sync"

	"agremens/synth/tuning"
)

// block is the most frames rendered in one go.
const block = 64

// voiceCount is the most notes that ring at once, releases included.
const voiceCount = 64

// Engine plays one sequence at a time. Its methods may be called from any
// goroutine; Render allocates nothing.
type Engine struct {
	mu   sync.Mutex
	rate int

	instrument *voicing
	coming     *voicing // takes its place at comingAt
	comingAt   int64
	tuning     tuning.Tuning
	retuned    *tuning.Tuning // takes its place at retunedAt
	retunedAt  int64

	now       int64 // frames rendered since New
	plan      *plan // nil: nothing scheduled
	origin    int64 // frame at which the plan's frame 0 stands in this pass
	note      int   // next note and click of the plan
	click     int
	next      *plan // takes over at nextAt
	nextAt    int64
	nextStart int64 // frame of next's frame 0

	voices [voiceCount]voice
	ticks  [8]tick
	room   *room
	level  leveller
	strike uint32 // counts strokes: seeds the noise of each

	clicked int64 // frame after the latest click for a note

	mono        [block]float64
	left, right [block]float64
	wetL, wetR  [block]float64
}

// New returns a silent engine of so many frames a second, with a harpsichord
// in equal temperament.
func New(rate int) *Engine {
	e := &Engine{rate: rate, room: newRoom(rate), level: newLeveller(rate)}
	e.instrument, _ = voicingOf("harpsichord")
	return e
}

// SetInstrument changes the instrument from the next note struck; what sounds
// already keeps its sound. It reports an error for an unknown instrument.
func (e *Engine) SetInstrument(i Instrument) error { return e.SetInstrumentAt(i, math.MinInt64) }

// SetInstrumentAt changes the instrument for the notes struck at engine frame
// at and later, as at the next beat.
func (e *Engine) SetInstrumentAt(i Instrument, at int64) error {
	v, ok := voicingOf(i)
	if !ok {
		return fmt.Errorf("synth: no instrument %q", i)
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.coming, e.comingAt = v, at; at <= e.now {
		e.instrument, e.coming = v, nil
	}
	return nil
}

// SetTuning changes the tuning from the next note struck.
func (e *Engine) SetTuning(t tuning.Tuning) { e.SetTuningAt(t, math.MinInt64) }

// SetTuningAt changes the tuning for the notes struck at engine frame at and
// later; what sounds already keeps its pitch.
func (e *Engine) SetTuningAt(t tuning.Tuning, at int64) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.retuned, e.retunedAt = &t, at; at <= e.now {
		e.tuning, e.retuned = t, nil
	}
}

// Play starts a sequence with the next frame rendered and returns that
// frame. What sounded before is let go.
func (e *Engine) Play(seq Sequence) (start int64) {
	p := newPlan(seq, e.rate)
	e.mu.Lock()
	defer e.mu.Unlock()
	e.releaseAll(quickRelease)
	e.next = nil
	e.begin(p, e.now, 0)
	return e.now
}

// Replace lets a sequence take over at engine frame at, where its own frame 0
// stands. Keys held down by both keep sounding; the others are let go. A
// sequence may hold frames before 0: they are heard when it loops. An at in
// the past takes over at once, as far in as it would have come by now.
func (e *Engine) Replace(seq Sequence, at int64) { e.ReplaceFrom(seq, at, 0) }

// ReplaceFrom is Replace with the sequence's frame from at engine frame at.
// It returns the engine frame at which the sequence's frame 0 stands.
func (e *Engine) ReplaceFrom(seq Sequence, at, from int64) (start int64) {
	p := newPlan(seq, e.rate)
	e.mu.Lock()
	defer e.mu.Unlock()
	e.next, e.nextStart = p, at-from
	e.nextAt = max(at, e.now)
	return e.nextStart
}

// Stop lets every note go and forgets what was to come.
func (e *Engine) Stop() {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.plan, e.next = nil, nil
	e.releaseAll(quickRelease)
}

// Rendered returns the frames rendered since New.
func (e *Engine) Rendered() int64 {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.now
}

// Render fills dst with interleaved stereo samples between -1 and 1.
func (e *Engine) Render(dst []float32) {
	e.mu.Lock()
	defer e.mu.Unlock()
	for len(dst) >= 2 {
		e.due()
		n := int(min(block, int64(len(dst)/2), e.untilNext()))
		e.render(dst[:2*n])
		e.now += int64(n)
		dst = dst[2*n:]
	}
}

// begin makes p the plan, with its frame from at engine frame at.
func (e *Engine) begin(p *plan, at, from int64) {
	e.plan, e.origin = p, at-from
	e.note, e.click = p.firstNote(from), p.firstClick(from)
}

// due starts and ends all that falls on the present frame.
func (e *Engine) due() {
	if e.next != nil && e.now >= e.nextAt {
		e.takeOver()
	}
	if e.coming != nil && e.now >= e.comingAt {
		e.instrument, e.coming = e.coming, nil
	}
	if e.retuned != nil && e.now >= e.retunedAt {
		e.tuning, e.retuned = *e.retuned, nil
	}
	e.wrap()
	for i := range e.voices {
		if v := &e.voices[i]; v.held && v.end <= e.now {
			v.release(v.damp)
		}
	}
	p := e.plan
	if p == nil {
		return
	}
	at := e.now - e.origin
	for ; e.note < len(p.notes) && p.notes[e.note].Start <= at; e.note++ {
		if n := p.notes[e.note]; n.Start == at {
			if !e.instrument.touch {
				n.End += p.lean[e.note]
			}
			e.start(n)
		}
	}
	for ; e.click < len(p.clicks) && p.clicks[e.click].At <= at; e.click++ {
		if c := p.clicks[e.click]; c.At == at {
			e.tick(beatTicks[c.Kind])
		}
	}
}

// wrap goes back to the loop's start when its end is reached.
func (e *Engine) wrap() {
	p := e.plan
	if p == nil || !p.loop {
		return
	}
	for e.now-e.origin >= p.length {
		e.origin += p.length - p.loopStart
		e.note, e.click = p.firstNote(p.loopStart), p.firstClick(p.loopStart)
	}
}

// takeOver makes the waiting plan the present one.
func (e *Engine) takeOver() {
	p, from := e.next, e.now-e.nextStart
	e.next = nil
	for p.loop && from >= p.length {
		from -= p.length - p.loopStart
	}
	e.begin(p, e.now, from)
	for i := range e.voices {
		v := &e.voices[i]
		if !v.held {
			continue
		}
		if end, ok := p.holding(v.key, from); ok {
			v.end = e.origin + end
		} else {
			v.end = e.now
		}
	}
}

// untilNext returns the frames until something starts, ends or wraps: 1 or
// more.
func (e *Engine) untilNext() int64 {
	until := e.now + block
	if e.next != nil {
		until = min(until, e.nextAt)
	}
	if p := e.plan; p != nil {
		if e.note < len(p.notes) {
			until = min(until, e.origin+p.notes[e.note].Start)
		}
		if e.click < len(p.clicks) {
			until = min(until, e.origin+p.clicks[e.click].At)
		}
		if p.loop {
			until = min(until, e.origin+p.length)
		}
	}
	for i := range e.voices {
		if v := &e.voices[i]; v.held {
			until = min(until, v.end)
		}
	}
	return max(1, until-e.now)
}

// start strikes a key.
func (e *Engine) start(n Note) {
	if e.instrument.click {
		if e.clicked != e.now+1 { // one click for all that begin together
			e.clicked = e.now + 1
			e.tick(rhythmTick)
		}
		return
	}
	for i := range e.voices {
		if v := &e.voices[i]; v.active && v.key == n.Key {
			v.release(restrike)
		}
	}
	e.strike++
	v := e.freeVoice()
	v.start(n.Key, e.origin+max(n.End, n.Start+1), e.rate, e.strike)
	e.instrument.build(v, stroke{
		hz: e.tuning.Hz(n.Key, n.Cents), key: n.Key,
		strength: float64(min(max(n.Strength, 0), 1)),
	})
	v.send = e.instrument.room
	v.gainL *= e.instrument.level
	v.gainR *= e.instrument.level
}

// freeVoice returns a silent voice, else the quietest.
func (e *Engine) freeVoice() *voice {
	best := &e.voices[0]
	for i := range e.voices {
		v := &e.voices[i]
		if !v.active {
			return v
		}
		if v.loudness() < best.loudness() {
			best = v
		}
	}
	return best
}

func (e *Engine) releaseAll(d damping) {
	for i := range e.voices {
		if v := &e.voices[i]; v.active {
			v.release(d)
		}
	}
	for i := range e.ticks {
		e.ticks[i].fade()
	}
}

// render mixes n frames in which nothing starts or ends.
func (e *Engine) render(dst []float32) {
	n := len(dst) / 2
	left, right, wetL, wetR := e.left[:n], e.right[:n], e.wetL[:n], e.wetR[:n]
	clear(left)
	clear(right)
	clear(wetL)
	clear(wetR)
	for i := range e.voices {
		v := &e.voices[i]
		if !v.active {
			continue
		}
		mono := e.mono[:n]
		v.render(mono)
		gl, gr, wl, wr := v.gainL, v.gainR, v.gainL*v.send, v.gainR*v.send
		for j, s := range mono {
			left[j] += gl * s
			right[j] += gr * s
			wetL[j] += wl * s
			wetR[j] += wr * s
		}
	}
	e.room.add(left, right, wetL, wetR)
	e.level.apply(left, right)
	for i := range e.ticks {
		e.ticks[i].add(left, right)
	}
	for j := range left {
		dst[2*j] = float32(knee(left[j]))
		dst[2*j+1] = float32(knee(right[j]))
	}
}
