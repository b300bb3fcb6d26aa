package musicxml

import "fmt"

// warnings gathers what was left out, each kind once with the number of
// places.
type warnings struct {
	order []string
	first map[string]string
	count map[string]int
}

func (w *warnings) add(where, what string) {
	if w.first == nil {
		w.first, w.count = map[string]string{}, map[string]int{}
	}
	if w.count[what] == 0 {
		if len(w.order) >= maxWarnings {
			return
		}
		w.order = append(w.order, what)
		w.first[what] = where
	}
	w.count[what]++
}

func (w *warnings) list() []Warning {
	var out []Warning
	for _, what := range w.order {
		where := w.first[what]
		if n := w.count[what]; n > 1 {
			where += fmt.Sprintf(" and %d more", n-1)
		}
		out = append(out, Warning{where, what})
	}
	return out
}
