package square

import "rsc.io/qr/coding"

// correct puts right the wrong bytes of a block, of which the last so many are
// check bytes; it reports whether they could be (Reed and Solomon's code over
// 256 elements; which bytes are wrong by Berlekamp and Massey's way, what they
// ought to be by Forney's).
func correct(block []byte, check int) bool {
	f := coding.Field
	syndromes := make([]byte, check)
	wrong := false
	for i := range syndromes {
		s := byte(0)
		for _, b := range block {
			s = f.Mul(s, f.Exp(i)) ^ b
		}
		syndromes[i] = s
		wrong = wrong || s != 0
	}
	if !wrong {
		return true
	}
	// locator has a root for each wrong byte, the lowest term first.
	locator, before := []byte{1}, []byte{1}
	length, since, last := 0, 1, byte(1)
	for n := range check {
		d := syndromes[n]
		for i := 1; i <= length && i < len(locator); i++ {
			d ^= f.Mul(locator[i], syndromes[n-i])
		}
		if d == 0 {
			since++
			continue
		}
		kept := append([]byte(nil), locator...)
		by := f.Mul(d, f.Inv(last))
		for len(locator) < len(before)+since {
			locator = append(locator, 0)
		}
		for i, b := range before {
			locator[i+since] ^= f.Mul(by, b)
		}
		if 2*length <= n {
			length, before, last, since = n+1-length, kept, d, 1
		} else {
			since++
		}
	}
	if 2*length > check {
		return false
	}
	// What the values follow from: syndromes times locator, so many terms.
	values := make([]byte, check)
	for i := range values {
		for j := 0; j <= i && j < len(locator); j++ {
			values[i] ^= f.Mul(locator[j], syndromes[i-j])
		}
	}
	found := 0
	for i := range block {
		place := len(block) - 1 - i
		root := f.Exp((255 - place%255) % 255)
		if value(locator, root) != 0 {
			continue
		}
		slope := byte(0) // the locator's derivative: its odd terms
		for j := 1; j < len(locator); j += 2 {
			slope ^= f.Mul(locator[j], power(root, j-1))
		}
		if slope == 0 {
			return false
		}
		block[i] ^= f.Mul(f.Exp(place%255), f.Mul(value(values, root), f.Inv(slope)))
		found++
	}
	return found == length
}

// value is that of a polynomial at x, the lowest term first.
func value(terms []byte, x byte) (v byte) {
	for i := len(terms) - 1; i >= 0; i-- {
		v = coding.Field.Mul(v, x) ^ terms[i]
	}
	return v
}

func power(x byte, n int) byte {
	v := byte(1)
	for range n {
		v = coding.Field.Mul(v, x)
	}
	return v
}
