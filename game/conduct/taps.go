package conduct

import (
	"agremens/game/round"
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
	case c.Round == nil || c.ear != nil:
	case down:
		c.with = with
		c.Round.Press(t, id)
	default:
		c.Round.Release(t.At, id)
	}
	if c.Tapping() {
		switch c.Hand() {
		case round.RightHand:
			t.Hand = perf.Right
		case round.LeftHand:
			t.Hand = perf.Left
		}
		c.page.Struck(down, t)
	}
}

// PlaceAt is where the round stood in the passage at a time of the page, ms, as
// the picture showed it.
func (c *Conductor) PlaceAt(ms float64) (at round.Place, ok bool) {
	if c.Round == nil {
		return round.Place{}, false
	}
	return c.Round.Place(ms+c.sound.PictureMS(), c.sound.Clock())
}

// Count is the beat that is being counted in now; ok is false where none is.
func (c *Conductor) Count() (beat int, ok bool) {
	if c.Round == nil {
		return 0, false
	}
	return c.Round.Count(c.time.Now(), c.sound.Clock())
}

// HandOf is the hand that a key of an instrument belongs to at a time in
// milliseconds, by what is to be played then.
func (c *Conductor) HandOf(key int, at float64) perf.Hand {
	if c.Round == nil {
		return perf.Right
	}
	return c.Round.HandOf(key, at, c.sound.Clock())
}
