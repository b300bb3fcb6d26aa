package music

// MaxCommon bounds the common denominator of all times in a passage. With it,
// and 2,000 measures of 4,096 quarters at most, sums of times stay below 2^50,
// so that exact fractions cannot overflow in the readers nor, with the small
// factors of note values, in the packages that read the passage.
const MaxCommon = 1 << 26

// Common keeps the least common denominator of all fractions it took; the
// zero Common has taken none.
type Common struct{ den int64 }

// Den returns the denominator.
func (c *Common) Den() int64 { return max(1, c.den) }

// Take takes x. It reports false, and takes nothing, where x would lead beyond
// [MaxCommon].
func (c *Common) Take(x Frac) bool {
	have, d := c.Den(), x.Den()
	if have%d == 0 {
		c.den = have
		return true
	}
	a, b := have, d
	for b != 0 {
		a, b = b, a%b
	}
	if d > MaxCommon || have/a > MaxCommon/d {
		return false
	}
	c.den = have / a * d
	return true
}
