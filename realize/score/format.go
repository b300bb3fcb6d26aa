package score

import (
	"fmt"
	"strings"

	"agremens/realize/music"
)

// Format prints a passage as text, one event a line in the order of time, for
// goldens and messages. Values are named as by [Value.String]; times are in
// quarters:
//
//	passage "Title" staves 2
//	measure 1 at 0 for 3, key 1 major, metre 3/4
//	1 s1 v1 at 0 for 1/2: B4 8th, beam [, mordent
func (p *Passage) Format() string {
	var b strings.Builder
	fmt.Fprintf(&b, "passage %q", p.Title)
	if p.Composer != "" {
		fmt.Fprintf(&b, " by %q", p.Composer)
	}
	if p.Year != 0 {
		fmt.Fprintf(&b, " of %d", p.Year)
	}
	fmt.Fprintf(&b, " staves %d\n", p.Staves)
	for _, c := range p.Clefs {
		fmt.Fprintf(&b, "clef s%d at %s: %s%d", c.Staff, c.Onset, c.Sign, c.Line)
		if c.Octave != 0 {
			fmt.Fprintf(&b, " octave %+d", c.Octave)
		}
		b.WriteByte('\n')
	}
	for _, t := range p.Tempos {
		fmt.Fprintf(&b, "tempo at %s: %g", t.Onset, t.QuartersPerMinute)
		if t.PerMinute != 0 {
			fmt.Fprintf(&b, " (%s = %g)", t.Beat, t.PerMinute)
		}
		if t.Text != "" {
			fmt.Fprintf(&b, " %q", t.Text)
		}
		b.WriteByte('\n')
	}
	next := 0
	for i := range p.Measures {
		b.WriteString(p.Measures[i].String() + "\n")
		for next < len(p.Chords) && (i == len(p.Measures)-1 || p.Chords[next].Onset.Less(p.Measures[i].End()) || p.Chords[next].Measure <= i) {
			b.WriteString(p.Measures[i].Number + " " + p.Chords[next].String() + "\n")
			next++
		}
	}
	for _, s := range p.Slurs {
		kind := "slur"
		if s.Dashed {
			kind = "dashed slur"
		}
		fmt.Fprintf(&b, "%s %s to %s\n", kind, p.where(s.From), p.where(s.To))
	}
	for _, t := range p.Tuplets {
		fmt.Fprintf(&b, "tuplet %d:%d %s to %s", t.Actual, t.Normal, p.where(t.From), p.where(t.To))
		if t.Bracket {
			b.WriteString(", bracket")
		}
		b.WriteByte('\n')
	}
	for _, m := range p.Marks {
		fmt.Fprintf(&b, "mark s%d at %s", m.Staff, m.Onset)
		if m.End != m.Onset {
			fmt.Fprintf(&b, " to %s", m.End)
		}
		fmt.Fprintf(&b, ": %s %q\n", m.Kind, m.Text)
	}
	return b.String()
}

// where names a chord by its notes and its place.
func (p *Passage) where(i int) string {
	c := &p.Chords[i]
	return fmt.Sprintf("v%s %s %s", c.Voice, c.Onset, c.pitches())
}

// String prints a measure's line of [Passage.Format].
func (m Measure) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "measure %s at %s for %s, key %d%s", m.Number, m.Onset, m.Length, m.Key.Fifths, modeWord(m.Key.Mode))
	if m.Metre.Unit != 0 {
		fmt.Fprintf(&b, ", metre %s", m.Metre)
		switch m.Metre.Symbol {
		case music.CommonTime:
			b.WriteString(" as C")
		case music.CutTime:
			b.WriteString(" as ¢")
		}
	}
	if m.Implicit {
		b.WriteString(", not counted")
	}
	if m.RepeatStart {
		b.WriteString(", repeat from here")
	}
	if m.Endings != nil {
		fmt.Fprintf(&b, ", ending %v", m.Endings)
		if m.EndingStop && m.EndingOpen {
			b.WriteString(" open")
		} else if m.EndingStop {
			b.WriteString(" closed")
		}
	}
	if m.RepeatEnd {
		b.WriteString(", repeat to here")
		if m.Times > 2 {
			fmt.Fprintf(&b, " %d times", m.Times)
		}
	}
	if m.Barline != "" {
		b.WriteString(", bar line " + m.Barline)
	}
	for _, j := range m.Jumps {
		b.WriteString(", " + j)
	}
	for _, k := range m.KeyChanges {
		fmt.Fprintf(&b, ", key %d%s at %s", k.Key.Fifths, modeWord(k.Key.Mode), k.Onset)
	}
	if m.NewSystem {
		b.WriteString(", new line")
	}
	return b.String()
}

func modeWord(m music.Mode) string { return [...]string{"", " major", " minor"}[m] }

// String prints a chord's line of [Passage.Format], without its measure.
func (c *Chord) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "s%d v%s at %s", c.Staff, c.Voice, c.Onset)
	switch {
	case c.Grace == nil:
		fmt.Fprintf(&b, " for %s", c.Dur)
	case c.Grace.After:
		b.WriteString(" small after")
	default:
		b.WriteString(" small")
	}
	if c.Grace != nil && c.Grace.Slash {
		b.WriteString(" slash")
	}
	fmt.Fprintf(&b, ": %s", c.pitches())
	if c.WholeRest {
		b.WriteString(" whole bar")
	} else {
		fmt.Fprintf(&b, " %s", c.Value)
	}
	if len(c.Beams) > 0 {
		b.WriteString(", beam ")
		for _, beam := range c.Beams {
			b.WriteString([...]string{".", "[", "-", "]", ">", "<"}[beam])
		}
	}
	for _, s := range c.Signs {
		b.WriteString(", " + s.String())
		if s.Note != len(c.Notes)-1 {
			fmt.Fprintf(&b, " on note %d", s.Note+1)
		}
	}
	for _, a := range c.Artic {
		b.WriteString(", " + string(a))
	}
	if c.Fermata {
		b.WriteString(", fermata")
	}
	if c.Arpeggio != "" {
		b.WriteString(", arpeggio " + string(c.Arpeggio))
	}
	if c.Stem != StemAuto {
		b.WriteString(", stem " + [...]string{"", "up", "down", "none"}[c.Stem])
	}
	if c.Cue {
		b.WriteString(", cue")
	}
	if c.Hidden {
		b.WriteString(", hidden")
	}
	return b.String()
}

// pitches prints the notes of a chord from low to high: printed accidentals
// in parentheses, "~" where a tie arrives or leaves.
func (c *Chord) pitches() string {
	if c.IsRest() {
		return "rest"
	}
	var names []string
	for _, n := range c.Notes {
		s := n.Pitch.String()
		if n.TieStop {
			s = "~" + s
		}
		if n.TieStart {
			s += "~"
		}
		if n.Accidental != "" {
			s += "(" + n.Accidental + ")"
		}
		if n.Staff != c.Staff {
			s += fmt.Sprintf(" on s%d", n.Staff)
		}
		if n.Fingering != "" {
			s += " finger " + n.Fingering
		}
		names = append(names, s)
	}
	return strings.Join(names, " + ")
}

// valueNames are the names of the values, by type.
var valueNames = [...]string{"?", "long", "breve", "whole", "half", "quarter", "8th", "16th", "32nd", "64th", "128th", "256th"}

// String prints "quarter.", "8th 3:2".
func (v Value) String() string {
	s := valueNames[v.Type] + strings.Repeat(".", v.Dots)
	if v.Actual > 0 {
		s += fmt.Sprintf(" %d:%d", v.Actual, v.Normal)
	}
	return s
}

// String prints a sign with its accidentals: "trill-mark sharp", "turn flat below".
func (s Sign) String() string {
	text := string(s.Kind)
	if s.Long {
		text = "long " + text
	}
	for _, more := range []string{s.Line, s.Glyph, s.Text, s.Approach, s.Departure} {
		if more != "" {
			text += " " + more
		}
	}
	if s.Slash {
		text += " slash"
	}
	if s.Placed {
		text += map[bool]string{true: " above", false: " under"}[s.Above]
	}
	for _, a := range s.Accidentals {
		text += " " + a.Value
		if a.Below {
			text += " below"
		}
	}
	return text
}
