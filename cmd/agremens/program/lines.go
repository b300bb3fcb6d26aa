package program

import (
	"bytes"
	"encoding/binary"
)

// DropLines empties the tables that lead from a place in the program to its
// line of source: a tenth of what is downloaded, and read by nothing but the
// traces of a crash, which then name functions without lines. The runtime
// takes an offset of 0 for "no table" (runtime/symtab.go, pcvalue). It changes
// module in place, keeps its length, and reports whether it found the tables
// as Go 1.20 to 1.26 lay them out; otherwise it changes nothing.
func DropLines(module []byte) bool {
	filled, err := segments(module)
	if err != nil {
		return false
	}
	end := 0
	for _, s := range filled {
		end = max(end, s.address+s.size)
	}
	memory := make([]byte, end)
	for _, s := range filled {
		copy(memory[s.address:], module[s.from:s.from+s.size])
	}
	t, ok := findTables(memory)
	if !ok || !t.drop() {
		return false
	}
	for _, s := range filled {
		copy(module[s.from:s.from+s.size], memory[s.address:])
	}
	return true
}

// tables are the runtime's tables of functions (runtime.pcHeader).
type tables struct {
	count int
	units []byte // which files belong to a unit of compilation, and their names
	pc    []byte // runs of values along a function's code
	funcs []byte // the list of functions, and what is known of each (runtime._func)
}

// magic stands before the tables: abi.Go120PCLnTabMagic, two zeros, the
// least size of an instruction and that of a pointer.
var magic = []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}

func findTables(memory []byte) (t tables, ok bool) {
	at := bytes.Index(memory, magic)
	if at < 0 || bytes.Contains(memory[at+1:], magic) || len(memory) < at+72 {
		return t, false
	}
	head := func(i int) int { return int(binary.LittleEndian.Uint64(memory[at+8+8*i:])) }
	t.count = head(0)
	units, pc, funcs, end := head(4), head(6), head(7), len(memory)-at
	if !(0 < units && units < pc && pc < funcs && funcs < end && t.count > 0 && t.count < (end-funcs)/8) {
		return t, false
	}
	t.units, t.pc, t.funcs = memory[at+units:at+pc], memory[at+pc:at+funcs], memory[at+funcs:]
	return t, true
}

// Places in runtime._func.
const (
	frameRun  = 16
	fileRun   = 20
	lineRun   = 24
	valueRuns = 28 // how many runs follow
	unit      = 32
	startLine = 36
	known     = 44 // its size
)

// drop empties the runs of files and lines, but for those that serve another
// purpose too.
func (t tables) drop() bool {
	needed := make([]bool, len(t.pc))
	var all [][]byte
	for i := range t.count {
		at := binary.LittleEndian.Uint32(t.funcs[8*i+4:])
		if int64(at)+known > int64(len(t.funcs)) {
			return false
		}
		f := t.funcs[at:]
		runs := binary.LittleEndian.Uint32(f[valueRuns:])
		if int64(known)+4*int64(runs) > int64(len(f)) {
			return false
		}
		all = append(all, f)
		keep := []byte(f[known : known+4*runs])
		for _, run := range append([][]byte{f[frameRun:]}, each(keep)...) {
			if !t.mark(needed, binary.LittleEndian.Uint32(run)) {
				return false
			}
		}
	}
	for i, n := range needed {
		if !n {
			t.pc[i] = 0
		}
	}
	for _, f := range all {
		clear(f[fileRun:valueRuns])
		clear(f[unit : known-4])
	}
	clear(t.units)
	return true
}

// each cuts b into pieces of four bytes.
func each(b []byte) [][]byte {
	var all [][]byte
	for ; len(b) >= 4; b = b[4:] {
		all = append(all, b)
	}
	return all
}

// mark marks the bytes of the run that begins at from: pairs of numbers, of
// which a first one of 0 ends the run, unless it is the very first.
func (t tables) mark(needed []bool, from uint32) bool {
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
		needed[i] = true
	}
	return true
}
