package program

import (
	"encoding/binary"
	"fmt"
)

// Sections of a WebAssembly module, by the numbers of the core specification
// (5.5.2).
const (
	Custom  = 0
	types   = 1
	Import  = 2
	funcs   = 3
	table   = 4
	memory  = 5
	global  = 6
	export  = 7
	start   = 8
	element = 9
	Code    = 10
	Data    = 11
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

// section appends a section to a module.
func section(module []byte, id byte, content []byte) []byte {
	return append(sized(append(module, id), len(content)), content...)
}

// sized appends a size, a count or an index.
func sized(b []byte, n int) []byte { return binary.AppendUvarint(b, uint64(n)) }

// number appends the instruction that makes a number of 32 bits.
func number(b []byte, n int32) []byte {
	for b = append(b, opConst); ; {
		low, rest := byte(n&0x7f), n>>7
		if rest == 0 && low < 0x40 || rest == -1 && low >= 0x40 {
			return append(b, low)
		}
		b, n = append(b, low|0x80), rest
	}
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

// count reads how many follow; of what is cut off there are none.
func (r *reader) count() int {
	n := r.unsigned()
	if n < 0 || n > len(r.b)-r.at {
		r.at = len(r.b)
		return 0
	}
	return n
}

func (r *reader) signed() int {
	v := 0
	for shift := 0; ; {
		b := r.byte()
		v |= int(b&0x7f) << shift
		shift += 7
		if b < 0x80 || shift > 63 {
			if b&0x40 != 0 {
				v |= -1 << shift
			}
			return v
		}
	}
}
