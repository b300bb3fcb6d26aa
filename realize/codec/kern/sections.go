package kern

import (
	"strings"

	"agremens/realize/music"
)

// label is the beginning of a section: "*>A".
type label struct {
	name    string
	measure int
	onset   music.Frac
}

// order is an expansion list: "*>[A,A,B]", or with a name, "*>norep[A,B]".
type order struct {
	name     string
	sections []string
}

// label reads what stands after "*>"; the columns of a line say it once each.
func (r *reader) label(i int, text string) {
	if name, list, isList := strings.Cut(text, "["); isList {
		list, _, _ = strings.Cut(list, "]")
		o := order{name: name}
		for _, s := range strings.Split(list, ",") {
			if s = strings.TrimSpace(s); s != "" && len(o.sections) < 200 {
				o.sections = append(o.sections, s)
			}
		}
		for _, b := range r.orders {
			if b.name == name {
				return
			}
		}
		if len(r.orders) < 8 {
			r.orders = append(r.orders, o)
		}
		return
	}
	if n := len(r.labels); n > 0 && r.labels[n-1].name == text || text == "" {
		return
	}
	k := len(r.labels)
	r.labels = append(r.labels, label{name: clip(text), measure: -1})
	r.onset(func(measure int, onset music.Frac) { r.labels[k].measure, r.labels[k].onset = measure, onset })
}

// roads turns sections and their order into repeats, endings and jumps.
func (a *assembly) roads() {}
