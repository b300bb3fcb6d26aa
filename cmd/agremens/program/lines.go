package program

// DropLines empties the tables that lead from a place in the program to its
// line of source: a tenth of what is downloaded, and read by nothing but the
// traces of a crash, which then name functions without lines. The runtime
// takes an offset of 0 for "no table" (runtime/symtab.go, pcvalue). It changes
// module in place, keeps its length, and reports whether it found the tables
// as Go 1.20 to 1.26 lay them out; otherwise it changes nothing.
func DropLines(module []byte) bool {
	m, err := imageOf(module)
	if err != nil {
		return false
	}
	t, ok := findTables(m.memory)
	if !ok || !t.drop() {
		return false
	}
	m.into(module)
	return true
}

// drop empties the runs of files and lines, but for those that serve another
// purpose too.
func (t tables) drop() bool {
	needed := make([]bool, len(t.pc))
	for _, f := range t.funcs {
		for _, run := range runs(f) {
			if !t.mark(needed, run) {
				return false
			}
		}
	}
	for i, n := range needed {
		if !n {
			t.pc[i] = 0
		}
	}
	for _, f := range t.funcs {
		clear(f[fileRun:valueRuns])
		clear(f[unit:kind])
	}
	clear(t.units)
	return true
}
