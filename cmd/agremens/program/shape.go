package program

import (
	"bytes"
	"fmt"
	"slices"
)

// shape is a module as Go's linker makes it, taken apart as far as it is
// rewritten here.
type shape struct {
	module   []byte
	sections []Section
	types    [][]byte // of functions, as they are written
	imported int      // functions; they come first in the count of all
	typeOf   []int    // of the functions that are not imported, as bodies
	bodies   [][]byte
	slots    map[int]int // where in the table a function stands
	globals  int
	kinds    [][]byte // of the globals: type, and whether it varies
}

func shapeOf(module []byte) (*shape, error) {
	sections, err := Sections(module)
	if err != nil {
		return nil, err
	}
	functions, err := Functions(module)
	if err != nil {
		return nil, err
	}
	s := &shape{module: module, sections: sections, slots: map[int]int{}}
	for _, f := range functions {
		s.bodies = append(s.bodies, module[f.From:f.To])
	}
	for _, part := range sections {
		r := &reader{module[:part.To], part.From}
		switch part.ID {
		case types:
			for range r.count() {
				from := r.at
				r.byte()
				r.at += r.unsigned() // parameters, a byte each
				r.at += r.unsigned() // results
				if r.at > part.To {
					return nil, fmt.Errorf("program: the types are cut off")
				}
				s.types = append(s.types, module[from:r.at])
			}
		case Import:
			s.imported = r.unsigned()
		case funcs:
			for range r.count() {
				s.typeOf = append(s.typeOf, r.unsigned())
			}
		case global:
			s.globals = r.count()
			for range s.globals {
				s.kinds = append(s.kinds, []byte{r.byte(), r.byte()})
				r.byte()
				r.signed() // Go's begin with 0
				r.byte()
			}
		case element:
			if r.unsigned() != 1 || r.unsigned() != 0 || r.byte() != opConst {
				return nil, fmt.Errorf("program: the table is filled in another way")
			}
			slot := r.signed()
			r.byte()
			for range r.count() {
				s.slots[r.unsigned()] = slot
				slot++
			}
		default:
			continue
		}
		if r.at != part.To && part.ID != Import {
			return nil, fmt.Errorf("program: section %d holds something else", part.ID)
		}
	}
	if len(s.typeOf) != len(s.bodies) || len(s.bodies) == 0 {
		return nil, fmt.Errorf("program: %d functions have %d bodies", len(s.typeOf), len(s.bodies))
	}
	return s, nil
}

// typed returns the number of the function type that is written so, -1 when
// the module has none.
func (s *shape) typed(written string) int {
	return slices.IndexFunc(s.types, func(t []byte) bool { return bytes.Equal(t, []byte(written)) })
}

// content returns what a section holds.
func (s *shape) content(id byte) []byte {
	for _, part := range s.sections {
		if part.ID == id {
			return s.module[part.From:part.To]
		}
	}
	return nil
}

// rewritten returns the module with other bodies, without its custom sections
// (names among them), with so many more globals, numbers of 32 bits that begin
// with 0, and with its table and the last of its globals given out by name.
func (s *shape) rewritten(bodies [][]byte, more int, names []string) []byte {
	out := append([]byte{}, s.module[:8]...)
	for _, part := range s.sections {
		content := s.module[part.From:part.To]
		switch r := (&reader{content, 0}); part.ID {
		case Custom:
			continue
		case global:
			n := r.unsigned()
			content = append(sized(nil, n+more), content[r.at:]...)
			for range more {
				content = append(content, number32, varies, opConst, 0, opEnd)
			}
		case export:
			n := r.unsigned()
			content = append(sized(nil, n+1+len(names)), content[r.at:]...)
			content = append(text(content, "table"), kindTable, 0)
			for i, name := range names {
				content = sized(append(text(content, name), kindGlobal), s.globals+more-len(names)+i)
			}
		case Code:
			content = code(bodies)
		}
		out = section(out, part.ID, content)
	}
	return out
}

// Kinds and types (core specification, 5.3 and 5.5.5).
const (
	kindTable  = 1
	kindMemory = 2
	kindGlobal = 3
	number32   = 0x7f
	varies     = 1
)

func code(bodies [][]byte) []byte {
	b := sized(nil, len(bodies))
	for _, body := range bodies {
		b = append(sized(b, len(body)), body...)
	}
	return b
}

func text(b []byte, s string) []byte { return append(sized(b, len(s)), s...) }
