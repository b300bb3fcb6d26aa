package hear

import "math"

// While the sound goes on, what the loudspeaker is sent is taken out as
// [TakeOut] does it afterwards: the delay is found from what has been sent so
// far, the way between loudspeaker and microphone from then on, ever better.
// Beats counted in before anybody plays are all it needs.

const (
	besideLeast = 0.9  // s of sound from when the loudspeaker began, before a delay is looked for
	besideMost  = 8.0  // s that it is looked for in
	besideEvery = 0.25 // s between looks
	besideClear = 8.0  // how far the agreement has to stand out
	sameDelay   = 5e-4 // s, between two looks that agree
	forget      = 0.97 // of a window's weight when the next comes
)

// canceller takes what the loudspeaker sounds out of a stream.
type canceller struct {
	rate        float64
	block       int // samples taken at a time
	heard, sent []float32
	first       int // number of the first sample kept of both
	done        int // number of the first sample not yet given out
	began       int // number of the sample at which sent began, -1 not yet
	look        int // number of the sample at which to look for the delay next
	lag         float64
	lagged      bool // lag was found once
	found       bool // and once more
	meter       *wayMeter
	metered     int // number of the sample up to which the meter has seen
	way         []complex128
	work, turns []complex128
	out         []float32
}

func newCanceller(rate float64) *canceller {
	c := &canceller{rate: rate, block: 1024, began: -1}
	for float64(c.block) < 0.02*rate {
		c.block *= 2
	}
	c.work, c.turns = make([]complex128, 4*c.block), turnsOf(4*c.block)
	return c
}

// feed takes as many samples of both and returns the next of what is left of
// x, a block later at most; the slice is written anew at the next call.
func (c *canceller) feed(x, sent []float32) []float32 {
	c.out = c.out[:0]
	c.heard = append(c.heard, x...)
	for i := range x {
		v := float32(0)
		if i < len(sent) && sent[i] <= 64 && sent[i] >= -64 {
			v = sent[i]
		}
		if v != 0 && c.began < 0 {
			c.began = c.first + len(c.sent)
		}
		c.sent = append(c.sent, v)
	}
	for c.done+c.block <= c.first+len(c.heard) {
		c.next()
	}
	c.forget()
	return c.out
}

// next gives out one block.
func (c *canceller) next() {
	to := c.done + c.block
	switch {
	case c.began < 0:
	case !c.found:
		c.find(to)
	default:
		c.learn(to)
	}
	from := len(c.out)
	c.out = append(c.out, c.heard[c.done-c.first:to-c.first]...)
	if c.way != nil {
		c.subtract(c.out[from:])
	}
	c.done = to
}

// find looks for the delay in what has come so far.
func (c *canceller) find(to int) {
	start := max(c.began, c.first)
	seconds := float64(to-start) / c.rate
	if seconds < besideLeast || to < c.look {
		return
	}
	c.look = to + int(besideEvery*c.rate)
	start = max(start, to-int(besideMost*c.rate))
	lag, strength := delayOf(c.heard[start-c.first:to-c.first], c.sent[start-c.first:to-c.first], c.rate)
	if strength < besideClear {
		c.lagged = false
		return
	}
	c.found = c.lagged && math.Abs(lag-c.lag) < sameDelay*c.rate
	c.lag, c.lagged = lag, true
	if c.found {
		c.meter, c.metered = newWayMeter(), start
		c.learn(to)
	}
}

// shift is the delay less the time before the strongest moment of the way.
func (c *canceller) shift() int { return max(0, int(c.lag)-int(wayBefore*c.rate)) }

// learn shows the meter what has come and takes its word.
func (c *canceller) learn(to int) {
	fresh := false
	for ; c.metered+wayFFT <= to; c.metered += wayFFT / 4 {
		if c.meter.see(c.heard, c.sent, c.metered-c.first, c.shift(), forget) {
			fresh = true
		}
	}
	if !fresh {
		return
	}
	h := c.meter.way(3 * c.block)
	// It fades out where it is cut off.
	for i := range c.block {
		h[2*c.block+i] *= 0.5 + 0.5*math.Cos(math.Pi*float64(i)/float64(c.block))
	}
	if c.way == nil {
		c.way = make([]complex128, 4*c.block)
	}
	clear(c.way)
	for i, v := range h {
		c.way[i] = complex(v, 0)
	}
	transform(c.way, c.turns, false)
}

// subtract takes what was sent, by its way, out of the block that begins at done.
func (c *canceller) subtract(x []float32) {
	from := c.done - c.shift() - 3*c.block - c.first
	any := false
	for i := range c.work {
		v := at(c.sent, from+i)
		any = any || v != 0
		c.work[i] = complex(v, 0)
	}
	if !any {
		return
	}
	transform(c.work, c.turns, false)
	for i := range c.work {
		c.work[i] *= c.way[i]
	}
	transform(c.work, c.turns, true)
	for i := range x {
		x[i] -= float32(real(c.work[3*c.block+i]))
	}
}

// forget drops what nothing asks for any more.
func (c *canceller) forget() {
	back := int(besideMost * c.rate)
	if c.found {
		back = int(longestDelay*c.rate) + 4*c.block + wayFFT
	}
	if d := c.done - back - c.first; d > len(c.heard)/2 {
		c.heard = append(c.heard[:0], c.heard[d:]...)
		c.sent = append(c.sent[:0], c.sent[d:]...)
		c.first += d
	}
}
