package musicxml

import "agremens/realize/words"

// warnings gathers what was left out, each kind once with the number of
// places.
type warnings struct {
	order []string // what is said, in English
	first map[string]Warning
}

func (w *warnings) add(at spot, what string, fill ...string) {
	if w.first == nil {
		w.first = map[string]Warning{}
	}
	said := words.Message{Text: what, Fill: fill}
	key := said.String()
	known, seen := w.first[key]
	switch {
	case seen:
		known.at.more++
		w.first[key] = known
	case len(w.order) < maxWarnings:
		w.order = append(w.order, key)
		w.first[key] = Warning{at: at, what: said}
	}
}

func (w *warnings) list() []Warning {
	var out []Warning
	for _, key := range w.order {
		x := w.first[key]
		x.Where, x.What = x.at.in(nil), key
		out = append(out, x)
	}
	return out
}
