package kern

import (
	"strings"

	"agremens/realize/music"
)

// bar is what a bar line token says.
type bar struct {
	number                 string
	style                  string // in MusicXML words
	repeatEnd, repeatStart bool
	fermata                bool
}

// parseBar reads a token like "=12:|!" or "==".
func parseBar(text string) bar {
	var b bar
	rest := strings.TrimLeft(text, "=")
	final := len(text)-len(rest) > 1
	k := 0
	for k < len(rest) && rest[k] >= '0' && rest[k] <= '9' {
		k++
	}
	if k > 0 && k <= 6 {
		for k < len(rest) && k <= 7 && rest[k] >= 'a' && rest[k] <= 'z' {
			k++
		}
		b.number = rest[:k]
	}
	rest = rest[k:]
	b.fermata = strings.Contains(rest, ";")
	line := strings.IndexAny(rest, "|!")
	colon := strings.IndexByte(rest, ':')
	last := strings.LastIndexByte(rest, ':')
	if line >= 0 {
		b.repeatEnd = colon >= 0 && colon < line
		b.repeatStart = last > line
	} else {
		b.repeatEnd = colon >= 0
	}
	switch {
	case b.repeatEnd:
		b.style = "light-heavy"
	case strings.Contains(rest, "-"):
		b.style = "none"
	case b.repeatStart:
		b.style = ""
	case strings.Contains(rest, "||"):
		b.style = "light-light"
	case strings.Contains(rest, "!|"):
		b.style = "heavy-light"
	case strings.Contains(rest, "|!"), final:
		b.style = "light-heavy"
	case strings.Contains(rest, ".") || strings.Contains(rest, "'"):
		b.style = "dotted"
	}
	return b
}

// barline ends the measure and begins the next.
func (r *reader) barline(fields []string) error {
	text := fields[0]
	for i, c := range r.columns {
		if c.isNotes() && strings.HasPrefix(fields[i], "=") {
			text = fields[i]
			break
		}
	}
	b := parseBar(text)
	if b.fermata {
		r.left.Add("fermata")
	}
	n := len(r.measures)
	open := n > 0 && r.measures[n-1].open
	switch {
	case open && r.rows == 0:
		// Nothing sounded since the last line: this one says more of it.
		m := &r.measures[n-1]
		if n > 1 {
			r.closing(&r.measures[n-2], b)
		}
		if b.number != "" {
			m.Number, m.Implicit = b.number, b.number == "0"
		}
		m.RepeatStart = m.RepeatStart || b.repeatStart
		return nil
	case open:
		r.closing(&r.measures[n-1], b)
		r.closeMeasure()
	}
	if len(r.measures) >= maxMeasures {
		return fail(r.spot(-1), mendSplit, "the piece has more than {n} bars", "{n}", number(maxMeasures))
	}
	r.align()
	i := r.current()
	m := &r.measures[i]
	m.RepeatStart = b.repeatStart
	switch {
	case b.number != "":
		m.Number, m.Implicit = b.number, b.number == "0"
	case i > 0:
		m.Number = "" // its own is found when all are known
	}
	return nil
}

// closing says of a measure what its right bar line says.
func (r *reader) closing(m *measure, b bar) {
	if b.style != "" && (m.Barline == "" || m.Barline == "none" || b.style == "light-heavy") {
		m.Barline = b.style
	}
	m.RepeatEnd = m.RepeatEnd || b.repeatEnd
}

// closeMeasure gives the open measure its length; one in which nothing
// sounded is dropped.
func (r *reader) closeMeasure() {
	n := len(r.measures)
	if n == 0 || !r.measures[n-1].open {
		return
	}
	m := &r.measures[n-1]
	m.open = false
	m.Length = r.held
	if r.held.Sign() <= 0 {
		m.Length = music.Frac{}
		r.measures = r.measures[:n-1]
		for i := len(r.chords) - 1; i >= 0 && r.chords[i].Measure == n-1; i-- {
			r.chords[i].track = nil // small notes without a note to lean on
		}
	}
	r.now, r.held, r.rows = music.Frac{}, music.Frac{}, 0
}
