package musicxml

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// attributes writes what changes at the start of a measure.
func (w *encoder) attributes(i int) {
	m := &w.p.Measures[i]
	first := i == 0
	var clefs []score.Clef
	for _, c := range w.p.Clefs {
		if w.p.MeasureAt(c.Onset) == i && c.Onset == m.Onset {
			clefs = append(clefs, c)
		}
	}
	if !first && m.Key == w.key && m.Metre == w.metre && len(clefs) == 0 {
		return
	}
	w.start("attributes")
	if first {
		w.text("divisions", strconv.FormatInt(w.divisions, 10))
	}
	if first || m.Key != w.key {
		w.keySignature(m.Key)
	}
	if first && m.Metre.Unit > 0 || m.Metre != w.metre {
		switch m.Metre.Symbol {
		case music.CommonTime:
			w.start("time", "symbol", "common")
		case music.CutTime:
			w.start("time", "symbol", "cut")
		default:
			w.start("time")
		}
		if m.Metre.Unit == 0 {
			w.empty("senza-misura")
		} else {
			w.text("beats", strconv.Itoa(m.Metre.Beats))
			w.text("beat-type", strconv.Itoa(m.Metre.Unit))
		}
		w.end()
	}
	if first {
		w.text("staves", strconv.Itoa(max(1, w.p.Staves)))
	}
	for _, c := range clefs {
		w.clef(c)
	}
	w.end()
	w.key, w.metre = m.Key, m.Metre
}

func (w *encoder) keySignature(k music.Key) {
	w.start("key")
	w.text("fifths", strconv.Itoa(int(k.Fifths)))
	switch k.Mode {
	case music.Major:
		w.text("mode", "major")
	case music.Minor:
		w.text("mode", "minor")
	}
	w.end()
}

func (w *encoder) clef(c score.Clef) {
	w.start("clef", "number", strconv.Itoa(c.Staff))
	w.text("sign", c.Sign)
	w.text("line", strconv.Itoa(c.Line))
	if c.Octave != 0 {
		w.text("clef-octave-change", strconv.Itoa(c.Octave))
	}
	w.end()
}

func (w *encoder) leftBarline(i int) {
	m := &w.p.Measures[i]
	start := len(m.Endings) > 0 && !slices.Equal(m.Endings, w.ending)
	if m.RepeatStart || start {
		w.start("barline", "location", "left")
		if m.RepeatStart {
			w.text("bar-style", "heavy-light")
		}
		if start {
			w.empty("ending", "number", numbers(m.Endings), "type", "start")
		}
		if m.RepeatStart {
			w.empty("repeat", "direction", "forward")
		}
		w.end()
	}
	w.ending = m.Endings
	w.jumps(m, "start")
}

func (w *encoder) rightBarline(i int) {
	m := &w.p.Measures[i]
	w.jumps(m, "end")
	style := barStyles[m.Barline]
	if style || m.RepeatEnd || m.EndingStop {
		w.start("barline", "location", "right")
		if style {
			w.text("bar-style", m.Barline)
		}
		if m.EndingStop {
			kind := "stop"
			if m.EndingOpen {
				kind = "discontinue"
			}
			w.empty("ending", "number", numbers(m.Endings), "type", kind)
		}
		if m.RepeatEnd {
			attrs := []string{"direction", "backward"}
			if m.Times > 0 {
				attrs = append(attrs, "times", strconv.Itoa(m.Times))
			}
			w.empty("repeat", attrs...)
		}
		w.end()
	}
	if m.EndingStop {
		w.ending = nil
	}
}

func numbers(list []int) string {
	s := make([]string, len(list))
	for i, n := range list {
		s[i] = strconv.Itoa(n)
	}
	return strings.Join(s, ", ")
}
