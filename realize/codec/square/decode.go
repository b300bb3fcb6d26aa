package square

import "rsc.io/qr/coding"

// decode returns what modules say, row by row; ok is false where too many are
// wrong.
func decode(modules []bool, size int) (text []byte, ok bool) {
	if !dotted(modules, size) {
		return nil, false
	}
	level, mask, ok := format(modules, size)
	if !ok {
		return nil, false
	}
	plan, err := coding.NewPlan(version(size), level, mask)
	if err != nil {
		return nil, false
	}
	bytes := make([]byte, plan.DataBytes+plan.CheckBytes)
	for y, row := range plan.Pixel {
		for x, p := range row {
			if r := p.Role(); r != coding.Data && r != coding.Check {
				continue
			}
			if modules[y*size+x] != (p&coding.Black != 0) {
				at := p.Offset()
				bytes[at/8] |= 1 << (7 - at%8)
			}
		}
	}
	// Blocks follow one another, those with one byte more last.
	short, extra, check := plan.DataBytes/plan.Blocks, plan.DataBytes%plan.Blocks, plan.CheckBytes/plan.Blocks
	var data []byte
	at := 0
	for i := range plan.Blocks {
		n := short
		if i >= plan.Blocks-extra {
			n++
		}
		block := append(append([]byte(nil), bytes[at:at+n]...), bytes[plan.DataBytes+i*check:plan.DataBytes+(i+1)*check]...)
		if !correct(block, check) {
			return nil, false
		}
		data, at = append(data, block[:n]...), at+n
	}
	return segments(data, version(size))
}

// dotted reports whether the dotted lines from mark to mark are there, but for
// one dot in seven: the cheapest sign that the size is right.
func dotted(modules []bool, size int) bool {
	wrong := 0
	for i := 8; i < size-8; i++ {
		black := i%2 == 0
		if modules[6*size+i] != black {
			wrong++
		}
		if modules[i*size+6] != black {
			wrong++
		}
	}
	return wrong*7 <= 2*(size-16)
}

// format finds which of the 32 forms the two notes beside the marks say, to six
// wrong modules of thirty.
func format(modules []bool, size int) (level coding.Level, mask coding.Mask, ok bool) {
	best := 7
	for l := coding.L; l <= coding.H; l++ {
		for m := range coding.Mask(8) {
			word := note(l, m)
			wrong := 0
			for i := range 15 {
				black := word>>i&1 == 1
				for _, at := range notePlaces(i, size) {
					if modules[at] != black {
						wrong++
					}
				}
			}
			if wrong < best {
				best, level, mask = wrong, l, m
			}
		}
	}
	return level, mask, best < 7
}

// note is the word that names a level and a mask: five bits and ten that check
// them, and a pattern over all (ISO/IEC 18004, format information).
func note(l coding.Level, m coding.Mask) int {
	word := int(l^1)<<13 | int(m)<<10
	rest := word
	for i := 14; i >= 10; i-- {
		if rest>>i&1 == 1 {
			rest ^= 0x537 << (i - 10)
		}
	}
	return (word | rest) ^ 0x5412
}

// notePlaces are where a bit of the note stands, twice.
func notePlaces(i, size int) [2]int {
	var one, two int
	switch {
	case i < 6:
		one = i*size + 8
	case i < 8:
		one = (i+1)*size + 8
	case i == 8:
		one = 8*size + 7
	default:
		one = 8*size + 14 - i
	}
	if i < 8 {
		two = 8*size + size - 1 - i
	} else {
		two = (size-15+i)*size + 8
	}
	return [2]int{one, two}
}
