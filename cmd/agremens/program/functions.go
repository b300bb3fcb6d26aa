package program

import "fmt"

// Function is a function of a module, its name as the linker writes it and
// where its body lies in the file.
type Function struct {
	Name     string
	From, To int
}

// Functions lists the functions of a module that are not imported. Their
// names are empty where the module has no name section.
func Functions(module []byte) ([]Function, error) {
	sections, err := Sections(module)
	if err != nil {
		return nil, err
	}
	imported := 0
	var all []Function
	for _, s := range sections {
		r := reader{module[:s.To], s.From}
		switch s.ID {
		case Import:
			for imported = r.unsigned(); r.at < s.To; {
				r.text()
				r.text()
				if r.byte() != 0 {
					return nil, fmt.Errorf("program: something is imported that is no function")
				}
				r.unsigned()
			}
		case Code:
			for range r.count() {
				size := r.count()
				all = append(all, Function{From: r.at, To: r.at + size})
				r.at += size
			}
			if r.at != s.To {
				return nil, fmt.Errorf("program: the code is cut off")
			}
		case Custom:
			if r.text() == "name" {
				r.names(all, imported)
			}
		}
	}
	return all, nil
}

// names reads the name section's list of functions (core specification, 7.4.1).
func (r *reader) names(functions []Function, imported int) {
	for r.at < len(r.b) {
		kind := r.byte()
		end := r.unsigned()
		end += r.at
		if kind == 1 {
			for range r.count() {
				i := r.unsigned() - imported
				name := r.text()
				if 0 <= i && i < len(functions) {
					functions[i].Name = name
				}
			}
		}
		r.at = end
	}
}

func (r *reader) text() string {
	size := r.unsigned()
	if size < 0 || size > len(r.b)-r.at {
		r.at = len(r.b)
		return ""
	}
	r.at += size
	return string(r.b[r.at-size : r.at])
}
