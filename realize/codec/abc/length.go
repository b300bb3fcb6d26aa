package abc

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// shortest is the smallest note value there is a name for, a 256th.
var shortest = music.F(1, 64)

// length reads a length multiplier: "", "2", "/", "//", "3/2", "3/", "/4".
func (s *scanner) length() (music.Frac, error) {
	at := s.place()
	num, ok, err := s.number()
	if err != nil {
		return music.Frac{}, err
	}
	if !ok {
		num = 1
	}
	den := 1
	for s.take('/') {
		n, ok, err := s.number()
		if err != nil {
			return music.Frac{}, err
		}
		if !ok {
			n = 2
		}
		den *= n
		if den == 0 || den > maxDivision || den&(den-1) != 0 {
			return music.Frac{}, at.fail("a length is divided by something other than 2, 4, 8 …",
				"write triplets as (3CDE")
		}
	}
	if num == 0 || num > 1024 {
		return music.Frac{}, at.fail("a note of this length cannot be written", "use a length from 1 to 1024")
	}
	return music.F(int64(num), int64(den)), nil
}

// valueOf returns the value, with at most three dots, that lasts exactly d
// quarters outside a tuplet.
func valueOf(d music.Frac) (score.Value, bool) {
	v, ok := values[d]
	return v, ok
}

// values are all values with up to three dots, by their length.
var values = func() map[music.Frac]score.Value {
	all := map[music.Frac]score.Value{}
	for t := score.N256th; t >= score.Long; t-- {
		for dots := range 4 {
			v := score.Value{Type: t, Dots: dots}
			all[v.Quarters()] = v
		}
	}
	return all
}()

// split cuts a length that no single value has into values to be tied, at a
// beat where that is possible: nine eighths of 9/8 are 6 + 3, not 8 + 1.
func split(at, d music.Frac, metre music.Metre) []score.Value {
	var values []score.Value
	for d.Sign() > 0 {
		v, ok := valueOf(d)
		if !ok {
			v = largest(at, d, metre)
		}
		values = append(values, v)
		at, d = at.Add(v.Quarters()), d.Sub(v.Quarters())
	}
	return values
}

// largest returns the largest value below d that ends on a beat, else the
// largest without dots.
func largest(at, d music.Frac, metre music.Metre) score.Value {
	for t := score.Long; t <= score.N256th; t++ {
		for _, dots := range []int{1, 0} {
			v := score.Value{Type: t, Dots: dots}
			if end := at.Add(v.Quarters()); v.Quarters().Less(d) && end.Mod(metre.Beat()).IsZero() {
				return v
			}
		}
	}
	for t := score.Long; t < score.N256th; t++ {
		if v := (score.Value{Type: t}); v.Quarters().Cmp(d) <= 0 {
			return v
		}
	}
	return score.Value{Type: score.N256th}
}
