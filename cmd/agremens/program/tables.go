package program

import (
	"bytes"
	"encoding/binary"
)

// tables are the runtime's tables of functions (runtime.pcHeader), parts of a
// program's memory.
type tables struct {
	names  []byte   // of the functions, each with a zero behind it
	units  []byte   // which files belong to a unit of compilation, and their names
	pc     []byte   // runs of values along a function's code
	places []uint32 // of the functions, in the table of WebAssembly
	funcs  [][]byte // what is known of each function (runtime._func) in the same order, each with all that follows it
}

// magic stands before the tables: abi.Go120PCLnTabMagic, two zeros, the
// least size of an instruction and that of a pointer.
var magic = []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}

// Places in runtime._func.
const (
	frameRun  = 16
	fileRun   = 20 // and, behind it, that of lines
	valueRuns = 28 // how many runs follow
	unit      = 32 // and the line it starts at
	kind      = 40
	dataCount = 43 // how many places of other data follow
	known     = 44 // its size
)

// findTables reports whether it found the tables as Go 1.20 to 1.26 lay them
// out.
func findTables(memory []byte) (t tables, ok bool) {
	at := bytes.Index(memory, magic)
	if at < 0 || bytes.Contains(memory[at+1:], magic) || len(memory) < at+72 {
		return t, false
	}
	head := func(i int) int { return int(binary.LittleEndian.Uint64(memory[at+8+8*i:])) }
	count, names, units, pc, funcs, end := head(0), head(3), head(4), head(6), head(7), len(memory)-at
	if !(0 < names && names < units && units < pc && pc < funcs && funcs < end && count > 0 && count < (end-funcs)/8) {
		return t, false
	}
	t = tables{names: memory[at+names : at+units], units: memory[at+units : at+pc], pc: memory[at+pc : at+funcs]}
	list := memory[at+funcs:]
	for i := range count {
		from := int64(binary.LittleEndian.Uint32(list[8*i+4:]))
		if from+known > int64(len(list)) {
			return t, false
		}
		f := list[from:]
		if int64(size(f)) > int64(len(f)) {
			return t, false
		}
		t.places = append(t.places, binary.LittleEndian.Uint32(list[8*i:]))
		t.funcs = append(t.funcs, f)
	}
	return t, true
}

// size returns how many bytes a function's entry has.
func size(f []byte) int {
	return known + 4*int(binary.LittleEndian.Uint32(f[valueRuns:])) + 4*int(f[dataCount])
}

// runs returns where the runs of a function begin, but for those of files and
// lines.
func runs(f []byte) []uint32 {
	all := []uint32{binary.LittleEndian.Uint32(f[frameRun:])}
	n := int(binary.LittleEndian.Uint32(f[valueRuns:]))
	return append(all, words(f[known:known+4*n])...)
}

// words reads b as numbers of four bytes.
func words(b []byte) []uint32 {
	var all []uint32
	for ; len(b) >= 4; b = b[4:] {
		all = append(all, binary.LittleEndian.Uint32(b))
	}
	return all
}

// mark marks the bytes of the run that begins at from: pairs of numbers, of
// which a first one of 0 ends the run, unless it is the very first.
func (t tables) mark(marks []bool, from uint32) bool {
	if from == 0 {
		return true
	}
	r := reader{t.pc, int(from)}
	for first := true; ; first = false {
		if r.at >= len(t.pc) {
			return false
		}
		if r.unsigned() == 0 && !first {
			break
		}
		r.unsigned()
	}
	for i := int(from); i < r.at; i++ {
		marks[i] = true
	}
	return true
}
