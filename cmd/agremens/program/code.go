package program

import "fmt"

// instruction is one instruction of a function's body and the first of its
// numbers, which is what a call calls and what a global's access accesses.
type instruction struct {
	op       byte
	from, to int
	number   int
}

// Instructions that are read or written here (core specification, 5.4).
const (
	opIf           = 0x04
	opEnd          = 0x0b
	opCall         = 0x10
	opCallIndirect = 0x11
	opLocalGet     = 0x20
	opGlobalGet    = 0x23
	opGlobalSet    = 0x24
	opConst        = 0x41
	opConst64      = 0x42
	opZero         = 0x45
	opOr           = 0x72
	noResult       = 0x40
)

// instructions calls each for every instruction of a body in turn, from after
// its locals. It knows what Go's compiler emits: no vectors, no references, no
// exceptions, one memory.
func instructions(body []byte, each func(instruction)) error {
	r := reader{body, locals(body)}
	for r.at < len(body) {
		in := instruction{from: r.at}
		in.op = r.byte()
		switch op := in.op; {
		case 0x02 <= op && op <= 0x04: // block, loop, if: their type
			r.signed()
		case op == 0x0c, op == 0x0d, op == opCall, 0x20 <= op && op <= 0x24: // branches, calls, variables
			in.number = r.unsigned()
		case op == 0x0e: // a table of branches
			for range r.count() + 1 {
				r.unsigned()
			}
		case op == opCallIndirect, 0x28 <= op && op <= 0x3e: // type and table; alignment and offset
			in.number = r.unsigned()
			r.unsigned()
		case op == 0x3f, op == 0x40: // size of the memory, its growth
			r.byte()
		case op == opConst, op == opConst64:
			in.number = r.signed()
		case op == 0x43:
			r.at += 4
		case op == 0x44:
			r.at += 8
		case op == 0xfc:
			switch in.number = r.unsigned(); {
			case in.number <= 7: // conversions that saturate
			case in.number == 10:
				r.at += 2
			case in.number == 11:
				r.at++
			default:
				return fmt.Errorf("program: instruction fc %d is not known", in.number)
			}
		case op <= 0x01, op == 0x05, op == opEnd, op == 0x0f, op == 0x1a, op == 0x1b, 0x45 <= op && op <= 0xc4: // nothing follows
		default:
			return fmt.Errorf("program: instruction %02x is not known", op)
		}
		in.to = r.at
		each(in)
	}
	if r.at != len(body) {
		return fmt.Errorf("program: a function is cut off")
	}
	return nil
}

// locals returns where a body's list of local variables ends.
func locals(body []byte) int {
	r := reader{body, 0}
	for range r.count() {
		r.unsigned()
		r.byte()
	}
	return r.at
}
