package program

import "bytes"

// image is the memory of a program as its module fills it at the start.
type image struct {
	filled []segment
	memory []byte
}

func imageOf(module []byte) (m image, err error) {
	if m.filled, err = segments(module); err != nil {
		return m, err
	}
	end := 0
	for _, s := range m.filled {
		end = max(end, s.address+s.size)
	}
	m.memory = make([]byte, end)
	for _, s := range m.filled {
		copy(m.memory[s.address:], module[s.from:s.from+s.size])
	}
	return m, nil
}

// into writes the memory back into the module it was made of.
func (m image) into(module []byte) {
	for _, s := range m.filled {
		copy(module[s.from:s.from+s.size], m.memory[s.address:])
	}
}

// stretch is a stretch of memory and what it holds.
type stretch struct {
	address int
	bytes   []byte
}

// gap is how much may stay between two stretches that are written as one. It
// is written again as it is: tables never change.
const gap = 8

func stretches(memory []byte, taken []bool) []stretch {
	var all []stretch
	from, to := -1, -1
	for at, is := range taken {
		if !is {
			continue
		}
		if from >= 0 && at-to > gap {
			all = append(all, stretch{from, bytes.Clone(memory[from:to])})
			from = -1
		}
		if from < 0 {
			from = at
		}
		to = at + 1
	}
	if from >= 0 {
		all = append(all, stretch{from, bytes.Clone(memory[from:to])})
	}
	return all
}

// filling is the content of a data section that fills these.
func filling(all []stretch) []byte {
	b := sized(nil, len(all))
	for _, s := range all {
		b = append(number(append(b, 0), int32(s.address)), opEnd)
		b = append(sized(b, len(s.bytes)), s.bytes...)
	}
	return b
}
