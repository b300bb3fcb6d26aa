package abc

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// barsPerLine is how many bars stand on a line of text; a line that does not
// end a line of the staff ends with a backslash.
const barsPerLine = 4

// Encode writes a passage as a tune. Decoding it gives the passage again, but
// for ids, measure numbers, stems, and what ABC has no word for: the side a
// sign stands on, notes that cross to the other staff, marks that stand at no
// note; a tuplet's bracket is cut at a gap.
func Encode(p *score.Passage) string {
	w := newWriter(p)
	var b strings.Builder
	b.WriteString(w.header())
	for from := 0; from < len(p.Measures); {
		to := from + 1
		for to < len(p.Measures) && to-from < barsPerLine && !p.Measures[to].NewSystem {
			to++
		}
		for _, l := range w.lines {
			fmt.Fprintf(&b, "[V:%s]", l.id)
			for i := from; i < to; i++ {
				b.WriteString(l.measure(i))
			}
			if to < len(p.Measures) && !p.Measures[to].NewSystem {
				b.WriteString(" \\")
			}
			b.WriteByte('\n')
		}
		from = to
	}
	return b.String()
}

// writer holds what the lines of a tune share.
type writer struct {
	p     *score.Passage
	unit  music.Frac
	lines []*voiceWriter
}

func newWriter(p *score.Passage) *writer {
	w := &writer{p: p, unit: unitOf(p)}
	voices := p.Voices()
	staffOf := map[string]int{}
	var names []string
	for name, chords := range voices {
		staffOf[name] = p.Chords[chords[0]].Staff
		names = append(names, name)
	}
	sorting.Stable(names, func(a, b string) int {
		if staffOf[a] != staffOf[b] {
			return staffOf[a] - staffOf[b]
		}
		if len(a) != len(b) {
			return len(a) - len(b)
		}
		return strings.Compare(a, b)
	})
	if len(names) == 0 {
		names, staffOf[""] = []string{""}, 1
	}
	// A staff without notes has a voice too, or it would be lost.
	for staff := 1; staff <= p.Staves; staff++ {
		if !slices.ContainsFunc(names, func(n string) bool { return staffOf[n] == staff }) {
			name := fmt.Sprintf("empty %d", staff)
			staffOf[name] = staff
			at := 0
			for at < len(names) && staffOf[names[at]] < staff {
				at++
			}
			names = slices.Insert(names, at, name)
		}
	}
	for i, name := range names {
		l := &voiceWriter{writer: w, id: strconv.Itoa(i + 1), staff: staffOf[name], chords: voices[name], first: i == 0}
		l.leads = i == 0 || staffOf[names[i-1]] != l.staff
		l.prepare()
		w.lines = append(w.lines, l)
	}
	return w
}

// unitOf chooses L: a sixteenth where most values are that short.
func unitOf(p *score.Passage) music.Frac {
	short, long := 0, 0
	for i := range p.Chords {
		if p.Chords[i].Value.Type >= score.N16th {
			short++
		} else {
			long++
		}
	}
	if short > long {
		return music.F(1, 4)
	}
	return music.F(1, 2)
}

func (w *writer) header() string {
	var b strings.Builder
	p := w.p
	b.WriteString("X:1\n")
	field := func(name, text string) {
		if text = strings.Join(strings.Fields(text), " "); text != "" {
			if text[0] == '|' || text[0] == ':' {
				text = " " + text // else it would be a bar line
			}
			fmt.Fprintf(&b, "%s:%s\n", name, strings.ReplaceAll(text, "%", `\%`))
		}
	}
	escape := strings.NewReplacer(`\`, `\\`, "&", `\&`)
	field("T", escape.Replace(p.Title))
	field("C", escape.Replace(p.Composer))
	if p.Year != 0 {
		field("H", strconv.Itoa(p.Year))
	}
	var first score.Measure
	if len(p.Measures) > 0 {
		first = p.Measures[0]
	}
	field("M", metreText(first.Metre))
	fmt.Fprintf(&b, "L:1/%d\n", music.Int(4).Div(w.unit).Floor())
	for _, t := range p.Tempos {
		if t.Onset.IsZero() {
			field("Q", tempoText(t))
		}
	}
	if slices.ContainsFunc(p.Chords, func(c score.Chord) bool {
		return slices.ContainsFunc(c.Notes, func(n score.Note) bool { return n.Accidental != "" })
	}) {
		field("I", "propagate-accidentals octave")
	}
	fmt.Fprintf(&b, "%%%%score {%s}\n", w.layout())
	for _, l := range w.lines {
		fmt.Fprintf(&b, "V:%s", l.id)
		if l.clef != nil {
			b.WriteString(" clef=" + clefText(*l.clef))
		}
		b.WriteByte('\n')
	}
	field("K", keyText(first.Key))
	return b.String()
}

// layout lists the voices, those of one staff in parentheses.
func (w *writer) layout() string {
	var staves []string
	for staff := 1; ; staff++ {
		var ids []string
		more := false
		for _, l := range w.lines {
			if l.staff == staff {
				ids = append(ids, l.id)
			}
			more = more || l.staff > staff
		}
		if len(ids) > 1 {
			staves = append(staves, "("+strings.Join(ids, " ")+")")
		} else {
			staves = append(staves, ids...)
		}
		if !more {
			return strings.Join(staves, " ")
		}
	}
}

func metreText(m music.Metre) string {
	switch {
	case m.Unit == 0:
		return "none"
	case m == music.Metre{Beats: 4, Unit: 4, Symbol: music.CommonTime}:
		return "C"
	case m == music.Metre{Beats: 2, Unit: 2, Symbol: music.CutTime}:
		return "C|"
	}
	return m.String()
}

func tempoText(t score.Tempo) string {
	var parts []string
	if text := strings.ReplaceAll(t.Text, `"`, "'"); text != "" {
		parts = append(parts, `"`+text+`"`)
	}
	switch {
	case t.PerMinute != 0 && t.Beat.Type != score.Unspecified && t.Beat.Actual == 0:
		beat := t.Beat.Quarters().Div(music.Int(4))
		parts = append(parts, fmt.Sprintf("%d/%d=%s", beat.Num(), beat.Den(), decimal(t.PerMinute)))
	case t.QuartersPerMinute != 0:
		parts = append(parts, "1/4="+decimal(t.QuartersPerMinute))
	}
	return strings.Join(parts, " ")
}

func decimal(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// keyText writes a signature; one whose mode is not known is given by its
// accidentals alone.
func keyText(k music.Key) string {
	step, alter := k.Tonic()
	name := step.String() + [3]string{"b", "", "#"}[alter+1]
	switch k.Mode {
	case music.Major:
		return name
	case music.Minor:
		return name + "m"
	}
	if k.Fifths == 0 {
		return "none"
	}
	var b strings.Builder
	b.WriteString(name + " exp")
	for i := range int(max(k.Fifths, -k.Fifths)) {
		if k.Fifths > 0 {
			fmt.Fprintf(&b, " ^%c", tonics[i]+'a'-'A')
		} else {
			fmt.Fprintf(&b, " _%c", tonics[6-i]+'a'-'A')
		}
	}
	return b.String()
}

func clefText(c score.Clef) string {
	octave := map[int]string{-1: "-8", 1: "+8"}[c.Octave]
	for _, known := range clefs {
		if known.sign == c.Sign && known.line == c.Line && len(known.name) > 1 {
			return known.name + octave
		}
	}
	if c.Sign == "G" || c.Sign == "F" || c.Sign == "C" {
		return c.Sign + strconv.Itoa(c.Line) + octave
	}
	return "treble" + octave
}
