package synth

import "math"

// tickSound is a click: sinusoids that die within milliseconds.
type tickSound struct {
	level, hz, overtone float64 // overtone: share of a partial at 2.76 times hz
	t60                 float64 // seconds
	softMS              float64 // opening ramp
}

// rhythmTick is the instrument "click": full from its very first sample, so
// that a recorder finds the frame of the onset, and louder than any beat
// click can be.
var rhythmTick = tickSound{level: 0.75, hz: 2600, t60: 0.012}

// beatTicks are the beat clicks: wooden, lower, softer at the edge and at
// most half as loud as the rhythm's, never to be taken for it.
var beatTicks = [...]tickSound{
	Beat:   {level: 0.20, hz: 820, overtone: 0.35, t60: 0.07, softMS: 1.5},
	Strong: {level: 0.28, hz: 1230, overtone: 0.45, t60: 0.09, softMS: 1.5},
	Sub:    {level: 0.10, hz: 620, overtone: 0.2, t60: 0.045, softMS: 1.5},
}

// tick plays a click.
type tick struct {
	sound      tickSound
	age, soft  int
	level, die float64
	w          float64 // radians a frame
}

// tick starts a click in the slot that has least left.
func (e *Engine) tick(s tickSound) {
	slot := &e.ticks[0]
	for i := range e.ticks {
		if e.ticks[i].level < slot.level {
			slot = &e.ticks[i]
		}
	}
	rate := float64(e.rate)
	*slot = tick{
		sound: s, level: s.level,
		soft: int(s.softMS * rate / 1000),
		die:  math.Exp(-math.Ln10 * 3 / (s.t60 * rate)),
		w:    2 * math.Pi * s.hz / rate,
	}
}

// fade makes the rest of a click die within two milliseconds or so.
func (t *tick) fade() { t.die = min(t.die, 0.96) }

// add adds the click's next samples to both sides.
func (t *tick) add(left, right []float64) {
	if t.level < silence {
		t.level = 0
		return
	}
	for j := range left {
		at := float64(t.age)
		x := t.level * math.Cos(t.w*at)
		if t.sound.overtone > 0 {
			x += t.level * t.sound.overtone * math.Cos(t.w*2.76*at)
		}
		if t.age < t.soft {
			x *= 0.5 - 0.5*math.Cos(math.Pi*at/float64(t.soft))
		}
		left[j] += x
		right[j] += x
		t.level *= t.die
		t.age++
	}
}
