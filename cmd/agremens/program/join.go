package program

import (
	"cmp"
	"fmt"
	"slices"
)

// between is how many zeros may stand between two segments that are written as
// one. Go's linker begins another one wherever it saves a few bytes; the
// runtime's table from places to functions, a number every twenty bytes,
// becomes a hundred thousand of them, which compress badly and take their time
// at every start.
const between = 64

// joined writes the segments that fill a module's memory anew, as few as
// possible. It fails where two of them fill the same place.
func joined(module []byte) ([]byte, error) {
	sections, err := Sections(module)
	if err != nil {
		return nil, err
	}
	filled, err := segments(module)
	if err != nil {
		return nil, err
	}
	slices.SortFunc(filled, func(a, b segment) int { return cmp.Compare(a.address, b.address) })
	var all []stretch
	end := 0
	for _, s := range filled {
		if s.address < end {
			return nil, fmt.Errorf("program: two data segments fill the same place")
		}
		content := module[s.from : s.from+s.size]
		if n := len(all); n > 0 && s.address-end <= between {
			last := &all[n-1]
			last.bytes = append(append(last.bytes, make([]byte, s.address-end)...), content...)
		} else {
			all = append(all, stretch{s.address, append([]byte(nil), content...)})
		}
		end = s.address + s.size
	}
	out := append([]byte(nil), module[:8]...)
	for _, s := range sections {
		content := module[s.From:s.To]
		if s.ID == Data {
			content = filling(all)
		}
		out = section(out, s.ID, content)
	}
	return out, nil
}
