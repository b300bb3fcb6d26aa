package kern

import (
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// hint is a layout comment: "!LO:TR:acc=none" is of kind TR.
type hint struct {
	kind string
	keys map[string]string
}

// parseHint reads what comes after the exclamation marks.
func parseHint(text string) (hint, bool) {
	rest, ok := strings.CutPrefix(text, "LO:")
	if !ok || len(rest) > 1000 {
		return hint{}, false
	}
	fields := strings.Split(rest, ":")
	h := hint{kind: fields[0], keys: map[string]string{}}
	for _, f := range fields[1:] {
		key, value, _ := strings.Cut(f, "=")
		h.keys[key] = value
	}
	return h, true
}

// localHints keeps the hints of a line for the next notes of their columns.
func (r *reader) localHints(fields []string) {
	for i, f := range fields {
		c := r.columns[i]
		if len(f) < 2 || f[0] != '!' || len(c.hints) > 20 {
			continue
		}
		h, ok := parseHint(f[1:])
		if !ok {
			continue
		}
		if h.kind == "TX" {
			r.text(c, h)
			continue
		}
		c.hints = append(c.hints, h)
	}
}

// globalHint reads a hint that stands before a line.
func (r *reader) globalHint(text string) {
	h, ok := parseHint(text)
	if !ok {
		return
	}
	switch h.kind {
	case "TX":
		r.text(nil, h)
	case "LB", "PB":
		// The lines of a certain print say nothing about this page.
		if h.keys["g"] == "" {
			r.onset(func(measure int, onset music.Frac) {
				if onset.IsZero() && measure > 0 {
					r.measures[measure].NewSystem = true
				}
			})
		}
	}
}

// text reads words that stand at the next moment.
func (r *reader) text(c *column, h hint) {
	said := h.keys["t"]
	if said == "" {
		return
	}
	if _, isTempo := h.keys["tempo"]; isTempo {
		t := heading(said)
		r.onset(func(measure int, onset music.Frac) { r.addTempo(measure, onset, t) })
		return
	}
	words := plain(said)
	_, above := h.keys["a"]
	var t *track
	if c != nil {
		t = c.track
	}
	r.onset(func(measure int, onset music.Frac) {
		r.addMark(t, measure, onset, score.Mark{Kind: score.Words, Text: words, Above: above})
	})
}

// key returns the value of a hint of this kind on a chord.
func (d *draft) key(kind, key string) string {
	for _, h := range d.hints {
		if h.kind == kind && h.keys[key] != "" {
			return h.keys[key]
		}
	}
	return ""
}

func (d *draft) has(kind, key string) bool {
	for _, h := range d.hints {
		if _, ok := h.keys[key]; ok && h.kind == kind {
			return true
		}
	}
	return false
}
