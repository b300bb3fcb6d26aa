package program

import "fmt"

// Marked returns the module with a bit for each of its functions that is set
// when the function is called: 32 to a number, which are globals under the
// names called0, called1 and so on, in the order of [Functions].
func Marked(module []byte) ([]byte, error) {
	s, err := shapeOf(module)
	if err != nil {
		return nil, err
	}
	words := (len(s.bodies) + 31) / 32
	bodies := make([][]byte, len(s.bodies))
	for i, body := range s.bodies {
		g, from := s.globals+i/32, locals(body)
		b := append(append([]byte{}, body[:from]...), opGlobalGet)
		b = number(sized(b, g), 1<<(i%32))
		b = sized(append(b, opOr, opGlobalSet), g)
		bodies[i] = append(b, body[from:]...)
	}
	var names []string
	for i := range words {
		names = append(names, fmt.Sprint("called", i))
	}
	return s.rewritten(bodies, words, names), nil
}

// Calls returns the names of the functions that a run of the marked module
// called, by the globals it left.
func Calls(module []byte, called []uint32) ([]string, error) {
	functions, err := Functions(module)
	if err != nil {
		return nil, err
	}
	if len(called) != (len(functions)+31)/32 {
		return nil, fmt.Errorf("program: %d numbers tell of %d functions", len(called), len(functions))
	}
	var names []string
	for i, f := range functions {
		if called[i/32]>>(i%32)&1 != 0 {
			names = append(names, f.Name)
		}
	}
	return names, nil
}
