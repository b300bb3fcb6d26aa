package kern

import "agremens/realize/music"

// common keeps the least common denominator of all times seen. It reports
// false when x would take it beyond maxDen.
type common struct{ den int64 }

func (c *common) take(x music.Frac) bool {
	if c.den == 0 {
		c.den = 1
	}
	d := x.Den()
	if d == 1 || c.den%d == 0 {
		return true
	}
	a, b := c.den, d
	for b != 0 {
		a, b = b, a%b
	}
	if d > maxDen || c.den/a > maxDen/d {
		return false
	}
	c.den = c.den / a * d
	return true
}
