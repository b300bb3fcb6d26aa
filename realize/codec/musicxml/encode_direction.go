package musicxml

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/score"
)

// direction writes one <direction> around what inside writes.
func (w *encoder) direction(above bool, staff int, inside func()) {
	placement := "below"
	if above {
		placement = "above"
	}
	w.start("direction", "placement", placement)
	w.start("direction-type")
	inside()
	w.end()
	if w.p.Staves > 1 && staff > 0 {
		w.text("staff", strconv.Itoa(staff))
	}
	w.end()
}

func (w *encoder) tempo(t score.Tempo) {
	printed := t.Text != "" || t.PerMinute > 0 && t.Beat.Type != score.Unspecified
	if !printed {
		if t.QuartersPerMinute > 0 {
			w.empty("sound", "tempo", decimal(t.QuartersPerMinute))
		}
		return
	}
	w.start("direction", "placement", "above")
	if t.Text != "" {
		w.start("direction-type")
		w.text("words", t.Text)
		w.end()
	}
	if t.PerMinute > 0 && t.Beat.Type != score.Unspecified {
		w.start("direction-type")
		w.start("metronome")
		w.text("beat-unit", valueWords[t.Beat.Type])
		for range t.Beat.Dots {
			w.empty("beat-unit-dot")
		}
		w.text("per-minute", decimal(t.PerMinute))
		w.end()
		w.end()
	}
	if t.QuartersPerMinute > 0 {
		w.empty("sound", "tempo", decimal(t.QuartersPerMinute))
	}
	w.end()
}

func (w *encoder) mark(m *score.Mark, number int) {
	n := strconv.Itoa(number)
	switch m.Kind {
	case score.Words, score.Rehearsal:
		w.direction(m.Above, m.Staff, func() { w.text(string(m.Kind), m.Text) })
		if j := wordJump(m.Text); m.Kind == score.Words && (j == "dacapo" || j == "dalsegno") && !slices.ContainsFunc(w.p.Measures, goesBack) {
			w.empty("sound", "dacapo", "no") // or readers would take the words' word for it
		}
	case score.Dynamics:
		w.direction(m.Above, m.Staff, func() {
			w.start("dynamics")
			if dynamicWords[m.Text] {
				w.empty(m.Text)
			} else {
				w.text("other-dynamics", m.Text)
			}
			w.end()
		})
	case score.Wedge:
		kind := oneOf(m.Text, "crescendo", "diminuendo")
		if kind != "" {
			w.direction(m.Above, m.Staff, func() { w.empty("wedge", "type", kind, "number", n) })
		}
	case score.Dashes:
		w.direction(m.Above, m.Staff, func() { w.empty("dashes", "type", "start", "number", n) })
	case score.OctaveShift:
		kind, size := "down", m.Size
		if size < 0 {
			kind, size = "up", -size
		}
		w.direction(m.Above, m.Staff, func() {
			w.empty("octave-shift", "type", kind, "number", n, "size", strconv.Itoa(max(1, size)))
		})
	case score.Pedal:
		kind := oneOf(m.Text, "start", "stop", "change", "sostenuto")
		if kind != "" {
			w.direction(m.Above, m.Staff, func() { w.empty("pedal", "type", kind) })
		}
	case score.FiguredBass:
		w.figures(m.Text)
	case score.Harmony:
		w.harmony(m.Text)
	}
}

func (w *encoder) markEnd(m *score.Mark, number int) {
	n := strconv.Itoa(number)
	w.direction(m.Above, m.Staff, func() {
		if m.Kind == score.Wedge || m.Kind == score.Dashes {
			w.empty(string(m.Kind), "type", "stop", "number", n)
			return
		}
		size := max(m.Size, -m.Size, 1)
		w.empty("octave-shift", "type", "stop", "number", n, "size", strconv.Itoa(size))
	})
}

var figureWords = map[string]string{"#": "sharp", "b": "flat", "n": "natural", "##": "double-sharp", "bb": "flat-flat", "+": "cross", "/": "slash"}

// figures writes "6 b3" as two figures.
func (w *encoder) figures(text string) {
	fields := strings.Fields(text)
	if len(fields) == 0 {
		return
	}
	w.start("figured-bass")
	for _, f := range fields {
		i := strings.IndexAny(f, "0123456789")
		prefix, number, suffix := f, "", ""
		if i >= 0 {
			prefix, number = f[:i], f[i:]
			number = strings.TrimRight(number, "#bn+/")
			suffix = f[i+len(number):]
		}
		w.start("figure")
		if s := figureWords[prefix]; s != "" {
			w.text("prefix", s)
		}
		if number != "" {
			w.text("figure-number", number)
		}
		if s := figureWords[suffix]; s != "" {
			w.text("suffix", s)
		}
		w.end()
	}
	w.end()
}

// harmony writes a chord name: root, what follows it, bass.
func (w *encoder) harmony(text string) {
	if text == "" || stepOf(text[:1]) < 0 {
		return
	}
	name, bass, slashed := strings.Cut(text, "/")
	if slashed && (bass == "" || stepOf(bass[:1]) < 0) {
		name, slashed = text, false
	}
	w.start("harmony")
	w.start("root")
	rest := w.harmonyStep("root", name)
	w.end()
	w.text("kind", "other", "text", rest)
	if slashed {
		w.start("bass")
		w.harmonyStep("bass", bass)
		w.end()
	}
	w.end()
}

func (w *encoder) harmonyStep(name, s string) (rest string) {
	w.text(name+"-step", s[:1])
	rest = s[1:]
	alter := 0
	for len(rest) > 0 && alter > -2 && alter < 2 && (rest[0] == '#' || rest[0] == 'b') {
		if rest[0] == '#' {
			alter++
		} else {
			alter--
		}
		rest = rest[1:]
	}
	if alter != 0 {
		w.text(name+"-alter", strconv.Itoa(alter))
	}
	return rest
}
