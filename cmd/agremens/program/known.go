package program

import (
	"bytes"
	"encoding/binary"
	"errors"
)

var errNoTables = errors.New("program: the runtime's tables of functions are laid out in another way than that of Go 1.20 to 1.26")

// takeKnown empties, in the memory that the module fills at its start, what
// the runtime knows of the functions of the rest, and returns it for the rest
// to fill in. It is read of a function only while that is under way, which a
// goroutine's first function is as soon as the goroutine is made: so what is
// known of functions that are taken as values stays. It fails where the tables
// are laid out in another way than [findTables] knows.
func (s *shape) takeKnown(order []int) ([]stretch, error) {
	m, err := imageOf(s.module)
	if err != nil {
		return nil, err
	}
	t, ok := findTables(m.memory)
	if !ok {
		return nil, errNoTables
	}
	values, err := s.values(m.memory)
	if err != nil {
		return nil, err
	}
	leave := map[int]bool{}
	for _, i := range order {
		slot := s.slots[s.imported+i]
		leave[slot] = !values[slot]
	}
	taken := make([]bool, len(m.memory))
	for i, f := range t.funcs {
		for n := range size(f) {
			taken[len(taken)-len(f)+n] = leave[int(t.places[i])]
		}
	}
	all := stretches(m.memory, taken)
	for at, is := range taken {
		if is {
			m.memory[at] = 0
		}
	}
	s.module = bytes.Clone(s.module)
	m.into(s.module)
	return all, nil
}

// values returns the places in the table of the functions that the program may
// take as values: in code, as closures, and in memory. A value is the place
// times 65,536, and whatever could be one counts. A function's own in its code
// are places to return to.
func (s *shape) values(memory []byte) (map[int]bool, error) {
	stand := map[int]bool{}
	for _, slot := range s.slots {
		stand[slot] = true
	}
	values := map[int]bool{}
	note := func(v int) {
		if v&0xffff == 0 && stand[v>>16] {
			values[v>>16] = true
		}
	}
	for i, body := range s.bodies {
		own := s.slots[s.imported+i]
		err := instructions(body, func(in instruction) {
			if in.op == opConst64 && in.number>>16 != own {
				note(in.number)
			}
		})
		if err != nil {
			return nil, err
		}
	}
	for at := 0; at+8 <= len(memory); at += 8 {
		note(int(binary.LittleEndian.Uint64(memory[at:])))
	}
	return values, nil
}
