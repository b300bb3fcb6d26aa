package music_test

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"agremens/realize/music"
)

func fracs(t *rapid.T, label string) music.Frac {
	return music.F(rapid.Int64Range(-1_000_000, 1_000_000).Draw(t, label+" num"), rapid.Int64Range(1, 10_000).Draw(t, label+" den"))
}

func rat(a music.Frac) *big.Rat { return big.NewRat(a.Num(), a.Den()) }

// Every operation agrees with math/big, which is the reference here.
func TestFracAgreesWithBig(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := fracs(t, "a"), fracs(t, "b")
		x, y := rat(a), rat(b)
		same := func(name string, got music.Frac, want *big.Rat) {
			if rat(got).Cmp(want) != 0 {
				t.Fatalf("%v %s %v = %v, want %v", a, name, b, got, want)
			}
			if want.Denom().Int64() != got.Den() {
				t.Fatalf("%v is not in lowest terms", got)
			}
		}
		same("+", a.Add(b), new(big.Rat).Add(x, y))
		same("-", a.Sub(b), new(big.Rat).Sub(x, y))
		same("×", a.Mul(b), new(big.Rat).Mul(x, y))
		if !b.IsZero() {
			same("/", a.Div(b), new(big.Rat).Quo(x, y))
		}
		if got, want := a.Cmp(b), x.Cmp(y); got != want {
			t.Fatalf("%v cmp %v = %d, want %d", a, b, got, want)
		}
		if f, _ := x.Float64(); f != a.Float() {
			t.Fatalf("%v as a float is %v, want %v", a, a.Float(), f)
		}
	})
}

// Equal numbers compare equal with ==, however they came about.
func TestFracEquality(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := fracs(t, "a"), fracs(t, "b")
		if a.Add(b).Sub(b) != a {
			t.Fatalf("%v + %v - %v is another value", a, b, b)
		}
		if k := rapid.Int64Range(1, 1000).Draw(t, "k"); music.F(a.Num()*k, a.Den()*k) != a {
			t.Fatalf("%v extended by %d differs", a, k)
		}
		if (a.Cmp(b) == 0) != (a == b) {
			t.Fatalf("%v and %v: Cmp and == disagree", a, b)
		}
	})
	assert.Equal(t, music.Frac{}, music.F(0, 7))
	assert.Equal(t, music.F(1, 2), music.F(-1, -2))
}

func TestFracTextAndFloor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := fracs(t, "a")
		back, err := music.ParseFrac(a.String())
		if err != nil || back != a {
			t.Fatalf("%v reads back as %v, %v", a, back, err)
		}
		floor := music.Int(a.Floor())
		if a.Less(floor) || !a.Less(floor.Add(music.Int(1))) {
			t.Fatalf("the floor of %v is %v", a, floor)
		}
		b := music.F(rapid.Int64Range(1, 1000).Draw(t, "num"), rapid.Int64Range(1, 100).Draw(t, "den"))
		if m := a.Mod(b); m.Sign() < 0 || !m.Less(b) || a.Sub(m).Div(b).Den() != 1 {
			t.Fatalf("%v mod %v is %v", a, b, m)
		}
	})
	for _, bad := range []string{"", "1/0", "1/-2", "x", "1/2/3", "1.5", " 1", "99999999999999999999", "-9223372036854775808", "1/9223372036854775808"} {
		_, err := music.ParseFrac(bad)
		assert.ErrorIs(t, err, music.ErrFrac, bad)
	}
}

// Numbers that int64 cannot hold panic rather than wrap around; comparing
// never does.
func TestFracOverflow(t *testing.T) {
	big := music.F(math.MaxInt64, 1)
	small := music.F(1, math.MaxInt64)
	assert.Panics(t, func() { big.Add(big) })
	assert.Panics(t, func() { big.Neg().Sub(big) })
	assert.Panics(t, func() { big.Mul(music.Int(2)) })
	assert.Panics(t, func() { small.Mul(music.F(1, 2)) })
	assert.Panics(t, func() { music.Int(1).Div(music.Frac{}) })
	assert.Panics(t, func() { music.F(1, 0) })
	require.Equal(t, 1, big.Cmp(small))
	require.Equal(t, -1, big.Neg().Cmp(small))
	require.Equal(t, -1, small.Cmp(big))
	assert.True(t, music.F(-3, 4).Bounded(4))
	assert.False(t, music.F(-5, 4).Bounded(4))
	assert.False(t, big.Bounded(1<<31))
}
