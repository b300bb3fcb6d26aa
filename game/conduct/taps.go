package conduct

import (
	"agremens/realize/perf"
	"agremens/realize/tap"
)

// What is tapped on.
const (
	OnKeys  = "keys"
	OnGlass = "glass"
	OnMIDI  = "midi"
)

// Strike takes whatever is tapped on going down or coming up; id tells it from
// others, with is what it belongs to.
func (c *Conductor) Strike(down bool, t tap.Tap, id, with string) {
	switch {
	case c.Round == nil:
	case down:
		c.with = with
		c.Round.Press(t, id)
	default:
		c.Round.Release(t.At, id)
	}
}

// HandOf is the hand that a key of an instrument belongs to at a time in
// milliseconds, by what is to be played then.
func (c *Conductor) HandOf(key int, at float64) perf.Hand {
	if c.Round == nil {
		return perf.Right
	}
	return c.Round.HandOf(key, at, c.sound.Clock())
}
