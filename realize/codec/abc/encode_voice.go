package abc

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/sorting"
)

// voiceWriter writes the line of one voice, bar by bar.
type voiceWriter struct {
	*writer
	id     string
	staff  int
	first  bool // the tune's first voice: it carries what concerns all
	leads  bool // its staff's first voice: it carries the staff's marks
	chords []int
	clef   *score.Clef
	next   int // index into chords

	afterGrace bool // small notes stand just before

	key         music.Key
	metre       music.Metre
	accidentals map[int]int // by staff position, for this bar
	ties        map[int]int // alteration of notes that a tie waits for

	slurStarts, slurEnds map[int]int // by chord
	tuplets              map[int]string
	before               map[int][]string // marks that stand before a chord
	clefs                []score.Clef     // changes still to come
	tempos               []score.Tempo
	keys                 []score.KeyChange
}

// prepare sorts what is at onsets to the chords it will be written before.
func (l *voiceWriter) prepare() {
	p := l.p
	l.slurStarts, l.slurEnds = map[int]int{}, map[int]int{}
	l.tuplets, l.before = map[int]string{}, map[int][]string{}
	l.ties = map[int]int{}
	if len(p.Measures) > 0 {
		l.key, l.metre = p.Measures[0].Key, p.Measures[0].Metre
	}
	for i, c := range p.Clefs {
		if c.Staff != l.staff {
			continue
		}
		if c.Onset.IsZero() && l.clef == nil {
			l.clef = &p.Clefs[i]
		} else if l.leads {
			l.clefs = append(l.clefs, c)
		}
	}
	for _, t := range p.Tempos {
		if l.first && !t.Onset.IsZero() {
			l.tempos = append(l.tempos, t)
		}
	}
	for _, m := range p.Measures {
		l.keys = append(l.keys, m.KeyChanges...)
	}
	l.prepareSlurs()
	l.prepareTuplets()
	if l.leads {
		l.prepareMarks()
	}
}

// prepareSlurs keeps the slurs of this voice that do not cross each other: a
// closing parenthesis always ends the innermost.
func (l *voiceWriter) prepareSlurs() {
	place := map[int]int{}
	for k, i := range l.chords {
		place[i] = k
	}
	var slurs [][2]int
	for _, s := range l.p.Slurs {
		from, ok := place[s.From]
		to, ok2 := place[s.To]
		if ok && ok2 && from < to {
			slurs = append(slurs, [2]int{from, to})
		}
	}
	sorting.Stable(slurs, func(a, b [2]int) int {
		return cmp.Or(a[0]-b[0], b[1]-a[1])
	})
	var open [][2]int
	for _, s := range slurs {
		for len(open) > 0 && open[len(open)-1][1] <= s[0] {
			open = open[:len(open)-1]
		}
		if len(open) > 0 && open[len(open)-1][1] < s[1] {
			continue // it crosses
		}
		open = append(open, s)
		l.slurStarts[l.chords[s[0]]]++
		l.slurEnds[l.chords[s[1]]]++
	}
}

// prepareTuplets counts the chords of each tuplet: a run in one ratio, cut
// where the passage says that a tuplet begins or ends.
func (l *voiceWriter) prepareTuplets() {
	begins, ends := map[int]bool{}, map[int]bool{}
	for _, t := range l.p.Tuplets {
		begins[t.From], ends[t.To] = true, true
	}
	start, count := -1, 0
	var ratio score.Value
	var end music.Frac // of the chord before
	flush := func() {
		if count > 0 {
			l.tuplets[start] = fmt.Sprintf("(%d:%d:%d", ratio.Actual, ratio.Normal, count)
		}
		start, count = -1, 0
	}
	for _, i := range l.chords {
		c := &l.p.Chords[i]
		if c.Grace != nil {
			continue
		}
		// A gap would count as a note of the tuplet.
		gap := c.Onset != end
		end = c.End()
		if count > 0 && (gap || begins[i] || c.Value.Actual != ratio.Actual || c.Value.Normal != ratio.Normal || count >= 64) {
			flush()
		}
		if inTuplet(c) {
			if count == 0 {
				start, ratio = i, c.Value
			}
			count++
			if ends[i] {
				flush()
			}
		}
	}
	flush()
}

// inTuplet reports whether a chord is written as part of a tuplet.
func inTuplet(c *score.Chord) bool {
	return c.Value.Actual > 1 && c.Value.Normal > 0 && c.Value.Actual <= maxTuplet && c.Value.Normal <= maxTuplet
}

// prepareMarks finds the chord each mark stands before.
func (l *voiceWriter) prepareMarks() {
	put := func(onset music.Frac, text string) {
		// Chords of a voice stand in order of time.
		k, _ := slices.BinarySearchFunc(l.chords, onset, func(i int, at music.Frac) int { return l.p.Chords[i].Onset.Cmp(at) })
		for ; k < len(l.chords); k++ {
			if i := l.chords[k]; l.p.Chords[i].Grace == nil {
				l.before[i] = append(l.before[i], text)
				return
			}
		}
	}
	for _, m := range l.p.Marks {
		if m.Staff != l.staff && !(m.Staff == 0 && l.first) {
			continue
		}
		text := strings.ReplaceAll(m.Text, `"`, "'")
		switch m.Kind {
		case score.Dynamics:
			if slices.Contains(dynamics, m.Text) {
				put(m.Onset, "!"+m.Text+"!")
			}
		case score.Wedge:
			if m.Text == "crescendo" || m.Text == "diminuendo" {
				put(m.Onset, "!"+m.Text+"(!")
				put(m.End, "!"+m.Text+")!")
			}
		case score.Words:
			if text != "" && accidentalWord(text) == "" {
				put(m.Onset, `"`+map[bool]string{true: "^", false: "_"}[m.Above]+text+`"`)
			}
		case score.Harmony:
			if text != "" && !strings.ContainsAny(text[:1], "^_<>@") {
				put(m.Onset, `"`+text+`"`)
			}
		}
	}
}

// measure writes a bar with the line at its end.
func (l *voiceWriter) measure(i int) string {
	var b strings.Builder
	m := &l.p.Measures[i]
	b.WriteString(l.leftBar(i))
	l.accidentals = map[int]int{}
	if m.Metre != l.metre {
		l.metre = m.Metre
		fmt.Fprintf(&b, " [M:%s]", metreText(m.Metre))
	}
	if m.Key != l.key {
		l.key = m.Key
		fmt.Fprintf(&b, " [K:%s]", keyText(m.Key))
	}
	if l.first {
		for _, j := range m.Jumps {
			for _, known := range jumps {
				if known.jump == j {
					b.WriteString(" !" + known.name + "!")
					break
				}
			}
		}
	}
	l.afterGrace = false
	at := m.Onset
	for l.next < len(l.chords) && l.p.Chords[l.chords[l.next]].Measure == i {
		k := l.chords[l.next]
		c := &l.p.Chords[k]
		if at.Less(c.Onset) {
			b.WriteString(l.gap(at, c.Onset))
			at = c.Onset
		}
		if c.Grace != nil {
			b.WriteString(l.changes(c.Onset, l.blank(i)))
			b.WriteString(l.graces(i))
			continue
		}
		b.WriteString(l.changes(c.Onset, l.blank(i)))
		b.WriteString(l.chord(k, i))
		at = c.End()
		l.next++
	}
	if at.Less(m.End()) {
		b.WriteString(l.gap(at, m.End()))
	}
	b.WriteString(" " + rightBar(m))
	return b.String()
}

// blank is what comes before the next chord of the measure and the small notes
// before it: nothing where a beam goes on.
func (l *voiceWriter) blank(measure int) string {
	for k := l.next; k < len(l.chords); k++ {
		if c := &l.p.Chords[l.chords[k]]; c.Grace == nil {
			if c.Measure == measure && joined(c) {
				return ""
			}
			break
		}
	}
	return " "
}

// changes writes the tempo, clef and key changes up to onset.
func (l *voiceWriter) changes(onset music.Frac, blank string) string {
	var b strings.Builder
	for len(l.tempos) > 0 && l.tempos[0].Onset.Cmp(onset) <= 0 {
		if text := tempoText(l.tempos[0]); text != "" {
			fmt.Fprintf(&b, "%s[Q:%s]", blank, strings.ReplaceAll(text, "]", ")"))
		}
		l.tempos = l.tempos[1:]
	}
	for len(l.clefs) > 0 && l.clefs[0].Onset.Cmp(onset) <= 0 {
		fmt.Fprintf(&b, "%s[K:clef=%s]", blank, clefText(l.clefs[0]))
		l.clefs = l.clefs[1:]
	}
	for len(l.keys) > 0 && l.keys[0].Onset.Cmp(onset) <= 0 {
		if k := l.keys[0]; k.Onset == onset && k.Key != l.key {
			l.key = k.Key
			fmt.Fprintf(&b, "%s[K:%s]", blank, keyText(k.Key))
		}
		l.keys = l.keys[1:]
	}
	return b.String()
}

// gap writes the invisible rests that fill a voice's silence; what changes
// meanwhile cuts it.
func (l *voiceWriter) gap(from, to music.Frac) string {
	var b strings.Builder
	for from.Less(to) {
		end := to
		for _, onset := range l.upcoming() {
			if from.Less(onset) {
				end = end.Min(onset)
			}
		}
		b.WriteString(l.changes(from, " "))
		b.WriteString(" " + l.silence(end.Sub(from)))
		from = end
	}
	return b.String()
}

// upcoming lists the onset of the next change of each kind.
func (l *voiceWriter) upcoming() []music.Frac {
	var onsets []music.Frac
	if len(l.tempos) > 0 {
		onsets = append(onsets, l.tempos[0].Onset)
	}
	if len(l.clefs) > 0 {
		onsets = append(onsets, l.clefs[0].Onset)
	}
	if len(l.keys) > 0 {
		onsets = append(onsets, l.keys[0].Onset)
	}
	return onsets
}

// silence writes an invisible rest of any length, as part of a tuplet where
// its denominator has an odd factor.
func (l *voiceWriter) silence(d music.Frac) string {
	odd := d.Den()
	for odd%2 == 0 {
		odd /= 2
	}
	if odd > maxTuplet {
		return ""
	}
	if odd == 1 {
		return l.gaps(d)
	}
	normal := int64(1)
	for normal*2 < odd && d.Mul(music.F(odd, normal*2)).Div(l.unit).Den() <= maxDivision {
		normal *= 2
	}
	text := l.gaps(d.Mul(music.F(odd, normal)))
	return fmt.Sprintf("(%d:%d:%d%s", odd, normal, strings.Count(text, "x"), text)
}

// gaps writes an invisible rest, whole units apart from their fraction where
// the numerator would be too large to read.
func (l *voiceWriter) gaps(d music.Frac) string {
	n := d.Div(l.unit)
	if n.Num() <= 1024 {
		return "x" + l.length(d)
	}
	whole := music.Int(min(1024, n.Floor())).Mul(l.unit)
	text := "x" + l.length(whole)
	if rest := d.Sub(whole); rest.Sign() > 0 {
		text += l.gaps(rest)
	}
	return text
}

// length writes a duration in units.
func (l *voiceWriter) length(d music.Frac) string {
	n := d.Div(l.unit)
	switch {
	case n == music.Int(1):
		return ""
	case n.Den() == 1:
		return fmt.Sprint(n.Num())
	case n == music.F(1, 2):
		return "/"
	case n.Num() == 1:
		return fmt.Sprintf("/%d", n.Den())
	}
	return fmt.Sprintf("%d/%d", n.Num(), n.Den())
}

// leftBar writes what is at the start of a bar.
func (l *voiceWriter) leftBar(i int) string {
	m := &l.p.Measures[i]
	text := ""
	if m.RepeatStart {
		text = " |:"
	}
	if len(m.Endings) > 0 && (i == 0 || !slices.Equal(l.p.Measures[i-1].Endings, m.Endings) || l.p.Measures[i-1].EndingStop) {
		var numbers []string
		for _, n := range m.Endings {
			numbers = append(numbers, fmt.Sprint(n))
		}
		text += " [" + strings.Join(numbers, ",")
	}
	return text
}

func rightBar(m *score.Measure) string {
	switch {
	case m.RepeatEnd && m.Times > 2:
		return strings.Repeat(":", m.Times-1) + "|"
	case m.RepeatEnd:
		return ":|"
	case m.Barline == "light-heavy":
		return "|]"
	case m.Barline == "light-light":
		return "||"
	case m.Barline == "heavy-light":
		return "[|"
	case m.Barline == "none":
		return "[|]"
	case m.Barline == "dotted":
		return ".|"
	}
	return "|"
}
