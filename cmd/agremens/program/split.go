package program

import (
	"fmt"
	"hash/crc32"
)

// Split cuts a module of Go's in two: one that can begin by itself, and the
// rest. first says of a function, by its place among [Functions], whether it
// belongs to the former. What a first visit does not call need not be waited
// for.
//
// The first module gives out its memory as mem, its table as table, its
// globals as g0, g1 and so on. In place of a function of the rest it has a
// few instructions that call it through the table. When the rest is not there
// yet they first call the table's place 0, which Go leaves empty: whoever runs
// the program puts a function there that brings the rest. That is another
// module, which takes all of these from a module named first and then has
// nothing to give: made an instance, it puts its functions into the table and
// what the runtime knows of them into the memory. One
// of the names it asks for tells what it was cut from: the rest of another
// build, as a cache may hold it, cannot be made an instance.
func Split(module []byte, first func(function int) bool) (begin, rest []byte, err error) {
	s, err := shapeOf(module)
	if err != nil {
		return nil, nil, err
	}
	ordinary, plain := s.typed("\x60\x01\x7f\x01\x7f"), s.typed("\x60\x00\x00")
	if ordinary < 0 || plain < 0 {
		return nil, nil, fmt.Errorf("program: no Go program: its functions are of other types")
	}
	later := map[int]int{} // a function's number in the rest
	var order []int
	for i := range s.bodies {
		movable, err := s.movable(i, ordinary)
		if err != nil {
			return nil, nil, err
		}
		if movable && !first(i) {
			later[s.imported+i] = len(order)
			order = append(order, i)
		}
	}
	moved := make([][]byte, len(order))
	for n, i := range order {
		moved[n] = s.movedOut(s.bodies[i], later)
	}

	known, err := s.takeKnown(order)
	if err != nil {
		return nil, nil, err
	}
	here := s.globals // whether the rest is there
	bodies := append([][]byte{}, s.bodies...)
	for _, i := range order {
		b := sized([]byte{0, opGlobalGet}, here)
		b = append(number(append(b, opZero, opIf, noResult), 0), opCallIndirect)
		b = append(sized(b, plain), 0, opEnd, opLocalGet, 0)
		b = append(number(b, int32(s.slots[s.imported+i])), opCallIndirect)
		bodies[i] = append(sized(b, ordinary), 0, opEnd)
	}
	cut := crc32.Update(crc32.ChecksumIEEE(module), crc32.IEEETable, code(bodies))
	var names []string
	for g := range s.globals {
		names = append(names, fmt.Sprint("g", g))
	}
	names = append(names, fmt.Sprintf("here%08x", cut))
	return s.rewritten(bodies, 1, names), s.rest(order, moved, known, names, ordinary, plain), nil
}

// movable reports whether a function can be part of the rest: it and all that
// it calls stand in the table, by which both modules find each other's.
func (s *shape) movable(function, ordinary int) (bool, error) {
	_, ok := s.slots[s.imported+function]
	ok = ok && s.typeOf[function] == ordinary
	err := instructions(s.bodies[function], func(in instruction) {
		if in.op == opCall {
			_, found := s.slots[in.number]
			ok = ok && found
		}
	})
	return ok, err
}

// movedOut returns a body as it stands in the rest: what it calls has another
// number there, or none and is called through the table.
func (s *shape) movedOut(body []byte, later map[int]int) []byte {
	var out []byte
	from := 0
	instructions(body, func(in instruction) { // movable has found no error
		if in.op != opCall {
			return
		}
		out = append(out, body[from:in.from]...)
		from = in.to
		if n, ok := later[in.number]; ok {
			out = sized(append(out, opCall), n)
			return
		}
		out = append(number(out, int32(s.slots[in.number])), opCallIndirect)
		out = append(sized(out, s.typeOf[in.number-s.imported]), 0)
	})
	return append(out, body[from:]...)
}

// rest writes the second module. Its last function is run at once and notes
// that it is there.
func (s *shape) rest(order []int, bodies [][]byte, known []stretch, names []string, ordinary, plain int) []byte {
	out := append([]byte{}, s.module[:8]...)
	out = section(out, types, s.content(types))

	const from = "first"
	imports := sized(nil, 2+len(names))
	imports = append(text(text(imports, from), "table"), kindTable)
	imports = append(imports, s.content(table)[1:]...) // of the one there is
	imports = append(text(text(imports, from), "mem"), kindMemory)
	imports = append(imports, s.content(memory)[1:]...)
	for g, kind := range append(append([][]byte{}, s.kinds...), []byte{number32, varies}) {
		imports = append(text(text(imports, from), names[g]), kindGlobal)
		imports = append(imports, kind...)
	}
	out = section(out, Import, imports)

	list := sized(nil, len(order)+1)
	for range order {
		list = sized(list, ordinary)
	}
	out = section(out, funcs, sized(list, plain))
	out = section(out, start, sized(nil, len(order)))
	out = section(out, element, s.places(order))
	note := sized(append(number([]byte{0}, 1), opGlobalSet), s.globals)
	out = section(out, Code, code(append(bodies[:len(bodies):len(bodies)], append(note, opEnd))))
	return section(out, Data, filling(known))
}

// places writes where in the table the functions of the rest stand, a run of
// neighbours at a time.
func (s *shape) places(order []int) []byte {
	var runs []byte
	count := 0
	for n := 0; n < len(order); count++ {
		slot := s.slots[s.imported+order[n]]
		length := 1
		for n+length < len(order) && s.slots[s.imported+order[n+length]] == slot+length {
			length++
		}
		runs = append(number(append(runs, 0), int32(slot)), opEnd)
		runs = sized(runs, length)
		for range length {
			runs = sized(runs, n)
			n++
		}
	}
	return append(sized(nil, count), runs...)
}
