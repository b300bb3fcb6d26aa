package program

import (
	"encoding/binary"
	"fmt"
)

// Sections of a WebAssembly module, by the numbers of the core specification
// (5.5.2).
const (
	Custom = 0
	Import = 2
	Code   = 10
	Data   = 11
)

// Section is a section of a module: where its content lies in the file.
type Section struct {
	ID       byte
	From, To int
}

// Sections lists the sections of a module.
func Sections(module []byte) ([]Section, error) {
	if len(module) < 8 || string(module[:4]) != "\x00asm" {
		return nil, fmt.Errorf("program: no WebAssembly")
	}
	var all []Section
	for at := 8; at < len(module); {
		id := module[at]
		size, n := binary.Uvarint(module[at+1:])
		from := at + 1 + n
		if n <= 0 || size > uint64(len(module)-from) {
			return nil, fmt.Errorf("program: section %d is cut off", id)
		}
		at = from + int(size)
		all = append(all, Section{id, from, at})
	}
	return all, nil
}

// segment is a stretch of memory that the module fills at its start.
type segment struct{ address, from, size int }

// segments lists what the data section fills. Go's linker writes active
// segments of memory 0 with a constant address.
func segments(module []byte) ([]segment, error) {
	sections, err := Sections(module)
	if err != nil {
		return nil, err
	}
	var all []segment
	for _, s := range sections {
		if s.ID != Data {
			continue
		}
		r := reader{module[:s.To], s.From}
		for range r.unsigned() {
			if r.unsigned() != 0 || r.byte() != 0x41 {
				return nil, fmt.Errorf("program: a data segment of another kind")
			}
			address := r.signed()
			r.byte() // end of the expression
			size := r.unsigned()
			if r.at+size > s.To || address < 0 {
				return nil, fmt.Errorf("program: a data segment is cut off")
			}
			all = append(all, segment{address, r.at, size})
			r.at += size
		}
	}
	return all, nil
}

// reader reads numbers; past the end it reads zeros.
type reader struct {
	b  []byte
	at int
}

func (r *reader) byte() byte {
	if r.at >= len(r.b) {
		return 0
	}
	r.at++
	return r.b[r.at-1]
}

func (r *reader) unsigned() int {
	v := 0
	for shift := 0; ; shift += 7 {
		b := r.byte()
		v |= int(b&0x7f) << shift
		if b < 0x80 || shift > 56 {
			return v
		}
	}
}

func (r *reader) signed() int {
	v := 0
	for shift := 0; ; {
		b := r.byte()
		v |= int(b&0x7f) << shift
		shift += 7
		if b < 0x80 || shift > 56 {
			if b&0x40 != 0 {
				v |= -1 << shift
			}
			return v
		}
	}
}
