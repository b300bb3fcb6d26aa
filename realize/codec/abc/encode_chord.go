package abc

import (
	"slices"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// chord writes one chord or rest with all that belongs to it, after a blank
// unless a beam joins it to the chord before.
func (l *voiceWriter) chord(k, measure int) string {
	c := &l.p.Chords[k]
	var b strings.Builder
	if !joined(c) && !l.afterGrace {
		b.WriteByte(' ')
	}
	l.afterGrace = false
	b.WriteString(l.tuplets[k])
	b.WriteString(strings.Join(l.before[k], ""))
	b.WriteString(strings.Repeat("(", l.slurStarts[k]))
	if c.IsRest() {
		b.WriteString(marksText(c))
		b.WriteString(l.rest(c, measure))
	} else {
		b.WriteString(l.heads(c))
	}
	b.WriteString(strings.Repeat(")", l.slurEnds[k]))
	return b.String()
}

func (l *voiceWriter) rest(c *score.Chord, measure int) string {
	m := &l.p.Measures[measure]
	switch {
	case c.Hidden && inTuplet(c):
		return "x" + l.length(written(c))
	case c.Hidden:
		return l.silence(c.Dur)
	case c.WholeRest && c.Onset == m.Onset && c.Dur == m.Metre.Bar():
		return "Z"
	}
	return "z" + l.length(written(c))
}

// written returns the length a chord is written with, without its tuplet.
func written(c *score.Chord) music.Frac {
	v := c.Value
	v.Actual, v.Normal = 0, 0
	if q := v.Quarters(); q.Sign() > 0 && !c.WholeRest {
		return q
	}
	d := c.Dur
	if c.Value.Actual > 0 && c.Value.Normal > 0 {
		d = d.Mul(music.F(int64(c.Value.Actual), int64(c.Value.Normal)))
	}
	return d
}

// graces writes the small notes that stand here in the bar, in one pair of
// braces where beams join them.
func (l *voiceWriter) graces(measure int) string {
	var b strings.Builder
	var slash, open bool
	onset := l.p.Chords[l.chords[l.next]].Onset // others stand behind a gap
	for ; l.next < len(l.chords); l.next++ {
		k := l.chords[l.next]
		c := &l.p.Chords[k]
		if c.Grace == nil || c.Measure != measure || c.Onset != onset {
			break
		}
		slurs := strings.Repeat("(", l.slurStarts[k])
		if !open || !joined(c) || c.Grace.Slash != slash {
			if open {
				b.WriteString("}")
			}
			slash, open = c.Grace.Slash, true
			// A slur from the first small note begins before the braces.
			b.WriteString(slurs + "{" + map[bool]string{true: "/"}[slash])
			slurs = ""
		}
		b.WriteString(slurs + l.heads(c) + strings.Repeat(")", l.slurEnds[k]))
	}
	b.WriteString("}")
	l.afterGrace = true
	// Within a beam there is no blank.
	if l.next < len(l.chords) {
		if c := &l.p.Chords[l.chords[l.next]]; c.Measure == measure && joined(c) {
			return b.String()
		}
	}
	return " " + b.String()
}

// joined reports whether a beam joins c to the chord before.
func joined(c *score.Chord) bool {
	return len(c.Beams) > 0 && (c.Beams[0] == score.BeamContinue || c.Beams[0] == score.BeamEnd)
}

// marksText writes what comes before a chord.
func marksText(c *score.Chord) string {
	var b strings.Builder
	if c.Fermata {
		b.WriteString("!fermata!")
	}
	if c.Arpeggio.Rolled() {
		b.WriteString("!arpeggio!")
	}
	for _, a := range c.Artic {
		for _, known := range articulations {
			if known.mark == a {
				b.WriteString("!" + known.name + "!")
				break
			}
		}
	}
	return b.String()
}

// heads writes the notes of a chord, with the signs that stand on each.
func (l *voiceWriter) heads(c *score.Chord) string {
	var b strings.Builder
	b.WriteString(marksText(c))
	top := len(c.Notes) - 1
	// The accidentals of a chord's signs go to its first sign.
	for _, s := range c.Signs {
		if s.Kind != score.WavyLine {
			b.WriteString(accidentalTexts(s))
			break
		}
	}
	b.WriteString(signTexts(c, top))
	length := l.length(written(c))
	tied := !slices.ContainsFunc(c.Notes, func(n score.Note) bool { return !n.TieStart })
	if top > 0 {
		b.WriteByte('[')
	}
	for i := range c.Notes {
		n := &c.Notes[i]
		if i < top {
			b.WriteString(signTexts(c, i))
		}
		if len(n.Fingering) == 1 && n.Fingering[0] >= '0' && n.Fingering[0] <= '5' {
			b.WriteString("!" + n.Fingering + "!")
		}
		if n.Parentheses {
			b.WriteString("!courtesy!")
		}
		b.WriteString(l.note(n))
		if top > 0 && n.TieStart && !tied {
			b.WriteByte('-')
		}
	}
	if top > 0 {
		b.WriteByte(']')
	}
	b.WriteString(length)
	if tied {
		b.WriteByte('-')
	}
	l.tie(c)
	return b.String()
}

// tie remembers the alterations that ties carry on.
func (l *voiceWriter) tie(c *score.Chord) {
	if c.Grace == nil {
		clear(l.ties)
	}
	for _, n := range c.Notes {
		if n.TieStart {
			l.ties[n.Pitch.Diatonic()] = int(n.Pitch.Alter)
		}
	}
}

// note writes a pitch, with its accidental where one is printed or where the
// reader would take another.
func (l *voiceWriter) note(n *score.Note) string {
	at, alter := n.Pitch.Diatonic(), int(n.Pitch.Alter)
	expected := l.key.Alter(n.Pitch.Step)
	if a, ok := l.accidentals[at]; ok {
		expected = a
	}
	if a, ok := l.ties[at]; ok {
		expected = a
	}
	text := ""
	if n.Accidental != "" || alter != expected {
		text = [5]string{"__", "_", "=", "^", "^^"}[min(2, max(-2, alter))+2]
		l.accidentals[at] = alter
	}
	octave := int(n.Pitch.Octave)
	if l.clef != nil {
		octave -= l.clef.Octave
	}
	letter := n.Pitch.Step.String()
	if octave >= 5 {
		return text + strings.ToLower(letter) + strings.Repeat("'", octave-5)
	}
	return text + letter + strings.Repeat(",", 4-octave)
}

// signTexts writes the signs on one note of a chord. A wavy line that begins
// brings its trill with it.
func signTexts(c *score.Chord, note int) string {
	var b strings.Builder
	for i, s := range c.Signs {
		if s.Note != note {
			continue
		}
		if s.Kind == score.TrillMark && i+1 < len(c.Signs) && c.Signs[i+1].Kind == score.WavyLine && c.Signs[i+1].Line == "start" {
			continue
		}
		if name := signName(s); name != "" {
			b.WriteString("!" + name + "!")
		}
	}
	return b.String()
}

func signName(s score.Sign) string {
	if s.Kind == score.OtherOrnament && strings.HasPrefix(s.Glyph, "ornament") {
		return s.Glyph
	}
	for _, known := range signs {
		k := known.sign
		if k.Kind == s.Kind && k.Slash == s.Slash && k.Line == s.Line && k.Long == s.Long && (k.Text == s.Text || s.Kind != score.OtherOrnament) {
			return known.name
		}
	}
	return ""
}

func accidentalTexts(s score.Sign) string {
	var b strings.Builder
	for _, a := range s.Accidentals {
		side := map[bool]string{true: "^", false: "<"}[a.Placed]
		if a.Below {
			side = "_"
		}
		for _, known := range signAccidentals {
			if known.word == a.Value {
				b.WriteString(`"` + side + known.text + `"`)
				break
			}
		}
	}
	return b.String()
}
