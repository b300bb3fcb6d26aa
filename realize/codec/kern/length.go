package kern

import (
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// length is a note value: the number says into how many a whole note is
// divided, so that 12 is an eighth of a triplet; 0 is a breve, 00 a long; 4%3
// lasts three quarters. Dots are written.
type length struct {
	given    bool
	value    score.Value
	quarters music.Frac
}

// parse reads a length and reports whether it is one.
func (l *length) parse(number string, dots int) bool {
	if dots > 4 || number == "" {
		return false
	}
	base := music.Frac{}
	division, times, ratio := strings.Cut(number, "%")
	switch {
	case strings.Trim(division, "0") == "":
		if len(division) > 3 {
			return false
		}
		base = music.Int(4 << len(division))
	default:
		n, err := strconv.Atoi(division)
		if err != nil || n < 1 || n > 1<<12 {
			return false
		}
		base = music.F(4, int64(n))
	}
	if ratio {
		n, err := strconv.Atoi(times)
		if err != nil || n < 1 || n > 1<<12 {
			return false
		}
		base = base.Mul(music.Int(int64(n)))
	}
	l.given, l.quarters = true, base
	add := base
	for range dots {
		add = add.Mul(music.F(1, 2))
		l.quarters = l.quarters.Add(add)
	}
	if value, ok := valueOf(base); ok && value.Dots+dots <= 4 {
		l.value = value
		l.value.Dots += dots
		if l.value.Quarters() != l.quarters { // a length of its own with a dot
			l.value, _ = valueOf(l.quarters)
		}
	} else {
		l.value, _ = valueOf(l.quarters)
	}
	return true
}

// valueOf names a length: a plain value, one with dots, else one of a tuplet
// in the time of the next lower power of two.
func valueOf(d music.Frac) (score.Value, bool) {
	for dots := 0; dots <= 3; dots++ {
		for t := score.Long; t <= score.N256th; t++ {
			if v := (score.Value{Type: t, Dots: dots}); v.Quarters() == d {
				return v, true
			}
		}
	}
	for dots := 0; dots <= 2; dots++ {
		plain := score.Value{Type: score.Whole, Dots: dots}.Quarters()
		// d is plain / 2^k * normal/actual, so actual*2^k/normal is:
		ratio := plain.Div(d)
		odd := ratio.Num()
		for odd%2 == 0 {
			odd /= 2
		}
		if odd < 3 || odd > 127 || ratio.Den()&(ratio.Den()-1) != 0 {
			continue
		}
		normal := int64(2)
		for normal*2 < odd {
			normal *= 2
		}
		for t := score.Long; t <= score.N256th; t++ {
			v := score.Value{Type: t, Dots: dots, Actual: int(odd), Normal: int(normal)}
			if v.Quarters() == d {
				return v, true
			}
		}
	}
	return score.Value{}, false
}
