package program

import "bytes"

// ShortenNames writes "[...]" for the types in the names of functions that
// were made for types, as the runtime does itself when it prints a trace
// (runtime/traceback.go, funcNameForPrint): those names spell out whole
// structures. It changes module in place, keeps its length, and reports
// whether it found the names; otherwise it changes nothing.
func ShortenNames(module []byte) bool {
	m, err := imageOf(module)
	if err != nil {
		return false
	}
	t, ok := findTables(m.memory)
	if !ok {
		return false
	}
	for name := range bytes.SplitSeq(t.names, []byte{0}) {
		shorten(name)
	}
	m.into(module)
	return true
}

// shorten writes zeros behind the shortened name: each name is found by where
// it begins and ends with a zero.
func shorten(name []byte) {
	from, to := bytes.IndexByte(name, '['), bytes.LastIndexByte(name, ']')
	if from < 0 || to <= from+len("...") {
		return
	}
	end := from + 1 + copy(name[from+1:], "...")
	end += copy(name[end:], name[to:])
	clear(name[end:])
}
