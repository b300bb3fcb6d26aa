// Package music holds the small exact values every other package is built on:
// fractions of a quarter note, spelled pitches, intervals, keys and metres.
package music

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
	"strconv"
	"strings"
)

// Frac is an exact rational number. Times and durations are Fracs counted in
// quarter notes. The zero value is 0, and equal numbers compare equal with ==.
//
// Arithmetic that would leave the range of int64 panics; decoders must bound
// what they read (see [Frac.Bounded]).
type Frac struct {
	num int64
	// denMinus1 is the denominator less one, so that the zero value is 0/1.
	denMinus1 int64
}

// F returns num/den in lowest terms. It panics if den is 0.
func F(num, den int64) Frac {
	if den == 0 {
		panic("music: fraction with denominator 0")
	}
	if num == math.MinInt64 || den == math.MinInt64 {
		panic("music: fraction overflow")
	}
	if den < 0 {
		num, den = -num, -den
	}
	if g := gcd(abs(num), den); g > 1 {
		num, den = num/g, den/g
	}
	return Frac{num, den - 1}
}

// Int returns n as a Frac.
func Int(n int64) Frac { return Frac{num: n} }

// Num returns the numerator in lowest terms; it carries the sign.
func (a Frac) Num() int64 { return a.num }

// Den returns the denominator in lowest terms, at least 1.
func (a Frac) Den() int64 { return a.denMinus1 + 1 }

// Add returns a + b.
func (a Frac) Add(b Frac) Frac {
	g := gcd(a.Den(), b.Den())
	left := mul(a.num, b.Den()/g)
	right := mul(b.num, a.Den()/g)
	sum := left + right
	if (left > 0 && right > 0 && sum < 0) || (left < 0 && right < 0 && sum >= 0) {
		panic("music: fraction overflow")
	}
	return F(sum, mul(a.Den(), b.Den()/g))
}

// Sub returns a - b.
func (a Frac) Sub(b Frac) Frac { return a.Add(b.Neg()) }

// Mul returns a × b.
func (a Frac) Mul(b Frac) Frac {
	g := gcd(abs(a.num), b.Den())
	h := gcd(abs(b.num), a.Den())
	return F(mul(a.num/g, b.num/h), mul(a.Den()/h, b.Den()/g))
}

// Div returns a / b. It panics if b is 0.
func (a Frac) Div(b Frac) Frac { return a.Mul(F(b.Den(), b.num)) }

// Neg returns -a.
func (a Frac) Neg() Frac { return Frac{-a.num, a.denMinus1} }

// Sign returns -1, 0 or 1.
func (a Frac) Sign() int {
	switch {
	case a.num < 0:
		return -1
	case a.num > 0:
		return 1
	}
	return 0
}

// Cmp returns -1, 0 or 1 as a is less than, equal to or greater than b.
func (a Frac) Cmp(b Frac) int {
	if a.denMinus1 == b.denMinus1 {
		return cmpInt(a.num, b.num)
	}
	if sa, sb := a.Sign(), b.Sign(); sa != sb {
		return cmpInt(int64(sa), int64(sb))
	}
	// Same sign: compare magnitudes in 128 bits, which cannot overflow.
	hiA, loA := bits.Mul64(uint64(abs(a.num)), uint64(b.Den()))
	hiB, loB := bits.Mul64(uint64(abs(b.num)), uint64(a.Den()))
	c := 0
	switch {
	case hiA != hiB:
		c = 1
		if hiA < hiB {
			c = -1
		}
	case loA != loB:
		c = 1
		if loA < loB {
			c = -1
		}
	}
	return c * a.Sign()
}

// Less reports whether a < b.
func (a Frac) Less(b Frac) bool { return a.Cmp(b) < 0 }

// IsZero reports whether a is 0.
func (a Frac) IsZero() bool { return a.num == 0 }

// Floor returns the largest integer not above a.
func (a Frac) Floor() int64 {
	q := a.num / a.Den()
	if a.num < 0 && q*a.Den() != a.num {
		q--
	}
	return q
}

// Mod returns a - b·floor(a/b), in [0, b) for b > 0.
func (a Frac) Mod(b Frac) Frac { return a.Sub(b.Mul(Int(a.Div(b).Floor()))) }

// Float returns the nearest float64.
func (a Frac) Float() float64 { return float64(a.num) / float64(a.Den()) }

// Bounded reports whether numerator and denominator stay within ±limit, so
// that a decoder can refuse numbers that later arithmetic could not hold.
func (a Frac) Bounded(limit int64) bool { return abs(a.num) <= limit && a.Den() <= limit }

// Min returns the smaller of a and b.
func (a Frac) Min(b Frac) Frac {
	if b.Less(a) {
		return b
	}
	return a
}

// Max returns the larger of a and b.
func (a Frac) Max(b Frac) Frac {
	if a.Less(b) {
		return b
	}
	return a
}

// String prints "3/4", "2" or "-1/2".
func (a Frac) String() string {
	if a.denMinus1 == 0 {
		return strconv.FormatInt(a.num, 10)
	}
	return strconv.FormatInt(a.num, 10) + "/" + strconv.FormatInt(a.Den(), 10)
}

// ErrFrac is returned by [ParseFrac] for text that is no fraction.
var ErrFrac = errors.New("music: not a fraction")

// ParseFrac reads what [Frac.String] prints.
func ParseFrac(s string) (Frac, error) {
	n, d, found := strings.Cut(s, "/")
	if !found {
		d = "1"
	}
	num, err := strconv.ParseInt(n, 10, 64)
	if err != nil {
		return Frac{}, fmt.Errorf("%w: %q", ErrFrac, s)
	}
	den, err := strconv.ParseInt(d, 10, 64)
	if err != nil || den <= 0 || num == math.MinInt64 {
		return Frac{}, fmt.Errorf("%w: %q", ErrFrac, s)
	}
	return F(num, den), nil
}

func mul(a, b int64) int64 {
	if a == 0 || b == 0 {
		return 0
	}
	hi, lo := bits.Mul64(uint64(abs(a)), uint64(abs(b)))
	if hi != 0 || lo > math.MaxInt64 {
		panic("music: fraction overflow")
	}
	if (a < 0) != (b < 0) {
		return -int64(lo)
	}
	return int64(lo)
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

func abs(a int64) int64 {
	if a < 0 {
		return -a
	}
	return a
}

func cmpInt(a, b int64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}
