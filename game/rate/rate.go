// Package rate measures how many notes a second a player alternates, without
// harm: short bursts with long rests between them, each ended at the first
// slowing, and nothing on glass but a hint. It is pure; the page feeds it
// with taps and the time.
package rate

import (
	"math"
	"strconv"
	"strings"

	"agremens/realize/tap"
	"agremens/realize/words"
)

// State is where a measurement stands.
type State int8

// States. Ready waits for the first tap of a burst.
const (
	Ready State = iota
	Bursting
	Resting
	Measured
)

// quietMS ends a burst after which nothing more is tapped.
const quietMS = 1200

// Test is one measurement under way. Make one with [New].
type Test struct {
	State  State
	with   string // what is tapped on: the first tap decides
	glass  bool
	of     int
	bursts [][]float64
	now    []float64
	rest   float64 // until when, ms
}

// New begins a measurement; a player under twelve has one burst less.
func New(underTwelve bool) *Test { return &Test{of: tap.Bursts(underTwelve)} }

// Tap takes a tap at a time in ms. with names what it was tapped on; a burst
// on something else begins the measurement anew. Taps in a rest do nothing.
func (t *Test) Tap(at float64, with string, glass bool) {
	switch t.State {
	case Ready:
		if with != t.with {
			t.with, t.glass, t.bursts = with, glass, nil
		}
		t.State, t.now = Bursting, []float64{at}
	case Bursting:
		if with != t.with {
			return
		}
		if last := t.now[len(t.now)-1]; at <= last {
			return
		}
		t.now = append(t.now, at)
		if tap.BurstOver(t.now) {
			t.end(at)
		}
	}
}

// Tick moves on to now, in ms, and reports whether anything changed.
func (t *Test) Tick(now float64) bool {
	before := t.State
	switch t.State {
	case Bursting:
		first, last := t.now[0], t.now[len(t.now)-1]
		if now-last > quietMS || now-first > tap.BurstSeconds*1000+quietMS {
			t.end(now)
		}
	case Resting:
		if now >= t.rest {
			t.State = Ready
		}
	}
	return t.State != before || t.State == Resting
}

// end puts a burst away. One that is too short to count is tried again, after
// a rest all the same.
func (t *Test) end(now float64) {
	if len(tap.RateOf([][]float64{t.now}, false).Bursts) > 0 {
		t.bursts = append(t.bursts, t.now)
	}
	t.now = nil
	t.rest = now + tap.BurstRestSeconds*1000
	t.State = Resting
	if len(t.bursts) >= t.of {
		t.State = Measured
	}
}

// With names what was tapped on.
func (t *Test) With() string { return t.with }

// Rate returns what was measured so far.
func (t *Test) Rate() tap.Rate { return tap.RateOf(t.bursts, t.glass) }

// Notes returns the rate that a reading may count with, in half notes a
// second, rounded down: what comes by itself, and not the limit.
func (t *Test) Notes() float64 { return math.Floor(2*t.Rate().PerSecond) / 2 }

// Line says what is to be done now, or what was measured.
func (t *Test) Line(now float64, c *words.Catalogue) string {
	n := len(t.bursts) + 1
	switch t.State {
	case Ready:
		if n == 1 {
			return c.Say("Two adjacent keys, two fingers, back and forth, as fast as stays easy. Start when you like: your first tap starts three seconds.")
		}
		return c.Say("Burst {n} of {all}, when you like.", "{n}", strconv.Itoa(n), "{all}", strconv.Itoa(t.of))
	case Bursting:
		return c.Say("Burst {n} of {all}: easy and even.", "{n}", strconv.Itoa(n), "{all}", strconv.Itoa(t.of))
	case Resting:
		left := int(math.Ceil(max(0, t.rest-now) / 1000))
		return c.Say("Rest. Shake the hand out. {s} s", "{s}", strconv.Itoa(left))
	}
	return t.inWords(c)
}

func (t *Test) inWords(c *words.Catalogue) string {
	r := t.Rate()
	var bursts []string
	for _, b := range r.Bursts {
		bursts = append(bursts, c.Number(b, 1))
	}
	text := c.Say("{n} notes per second (bursts: {bursts}).", "{n}", c.Number(r.PerSecond, 1), "{bursts}", strings.Join(bursts, "; "))
	switch {
	case r.Hint:
		return text + " " + c.Say("On a touchscreen this is only a rough guide, because no key springs back. Measure it on your own keyboard, or ask your teacher for a number.")
	case !r.Certain:
		return text + " " + c.Say("The bursts differ by more than a tenth: rest, and measure again on another day if you like.")
	}
	return text
}
