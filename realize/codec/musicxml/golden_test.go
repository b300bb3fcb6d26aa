package musicxml_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"agremens/realize/codec/musicxml"
	"agremens/realize/score"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the goldens anew")

// TestGolden reads every hand-made score in testdata and compares the passage,
// written as text, with the file beside it. The scores are valid MusicXML 4.0
// (xmllint against the published schema); what each element means comes from
// the comments of that schema.
func TestGolden(t *testing.T) {
	paths, err := filepath.Glob(filepath.Join("testdata", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range paths {
		t.Run(filepath.Base(path), func(t *testing.T) {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			r, err := musicxml.Decode(data, nil)
			require.NoError(t, err)
			require.NoError(t, r.Passage.Check())
			got := describe(r)
			golden := strings.TrimSuffix(path, ".musicxml") + ".txt"
			if *update {
				require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
			}
			want, err := os.ReadFile(golden)
			require.NoError(t, err)
			assert.Equal(t, string(want), got)
		})
	}
}

var valueNames = []string{"?", "long", "breve", "1", "1/2", "1/4", "1/8", "1/16", "1/32", "1/64", "1/128", "1/256"}

// describe writes a result as text a musician can check against the score.
func describe(r *musicxml.Result) string {
	var b strings.Builder
	p := r.Passage
	for _, part := range r.Parts {
		mark := " "
		if part.Chosen {
			mark = "*"
		}
		fmt.Fprintf(&b, "part %s %s %q staves %d notes %d\n", mark, part.ID, part.Name, part.Staves, part.Notes)
	}
	fmt.Fprintf(&b, "%q by %q, %d staves\n", p.Title, p.Composer, p.Staves)
	for _, w := range r.Warnings {
		fmt.Fprintf(&b, "warning %v\n", w)
	}
	for _, t := range p.Tempos {
		fmt.Fprintf(&b, "tempo at %v %q %v quarters a minute, printed %s=%v\n", t.Onset, t.Text, t.QuartersPerMinute, value(t.Beat), t.PerMinute)
	}
	for _, c := range p.Clefs {
		fmt.Fprintf(&b, "clef at %v staff %d %s%d", c.Onset, c.Staff, c.Sign, c.Line)
		if c.Octave != 0 {
			fmt.Fprintf(&b, " octave %d", c.Octave)
		}
		fmt.Fprintln(&b)
	}
	for i, m := range p.Measures {
		fmt.Fprintf(&b, "\nmeasure %s at %v length %v key %d %s%s\n", m.Number, m.Onset, m.Length, m.Key.Fifths, m.Metre, bar(m))
		for _, k := range m.KeyChanges {
			fmt.Fprintf(&b, "  key %d at %v\n", k.Key.Fifths, k.Onset)
		}
		for k := range p.Chords {
			if p.Chords[k].Measure == i {
				fmt.Fprintf(&b, "  %2d %s\n", k, chordText(&p.Chords[k]))
			}
		}
	}
	fmt.Fprintln(&b)
	for _, s := range p.Slurs {
		fmt.Fprintf(&b, "slur %d to %d above %t\n", s.From, s.To, s.Above)
	}
	for _, t := range p.Tuplets {
		fmt.Fprintf(&b, "tuplet %d to %d %d:%d bracket %t\n", t.From, t.To, t.Actual, t.Normal, t.Bracket)
	}
	for _, m := range p.Marks {
		fmt.Fprintf(&b, "mark %s %q at %v to %v staff %d above %t size %d\n", m.Kind, m.Text, m.Onset, m.End, m.Staff, m.Above, m.Size)
	}
	return b.String()
}

func bar(m score.Measure) string {
	s := ""
	flags := []struct {
		on   bool
		text string
	}{
		{m.Implicit, "implicit"}, {m.RepeatStart, "repeat from"}, {m.RepeatEnd, "repeat to"}, {m.EndingStop, "ending stops"},
		{m.EndingOpen, "open"}, {m.NewSystem, "new line"}, {len(m.Endings) > 0, fmt.Sprint("endings ", m.Endings)},
	}
	for _, f := range flags {
		if f.on {
			s += ", " + f.text
		}
	}
	if m.Barline != "" {
		s += ", " + m.Barline
	}
	if len(m.Jumps) > 0 {
		s += ", " + strings.Join(m.Jumps, " ")
	}
	return s
}

func value(v score.Value) string {
	s := valueNames[v.Type] + strings.Repeat(".", v.Dots)
	if v.Actual > 0 {
		s += fmt.Sprintf(" %d:%d", v.Actual, v.Normal)
	}
	return s
}

func chordText(c *score.Chord) string {
	s := fmt.Sprintf("at %v staff %d voice %s", c.Onset, c.Staff, c.Voice)
	if c.IsRest() {
		s += " rest"
	}
	for _, n := range c.Notes {
		s += fmt.Sprintf(" %v(%s", n.Pitch, n.ID)
		for _, f := range []struct {
			on   bool
			text string
		}{
			{n.Accidental != "", n.Accidental}, {n.TieStop, "tied"}, {n.TieStart, "ties on"}, {n.Staff != c.Staff, fmt.Sprint("staff ", n.Staff)},
			{n.Fingering != "", "finger " + n.Fingering}, {n.Head != "", "head " + n.Head},
		} {
			if f.on {
				s += " " + f.text
			}
		}
		s += ")"
	}
	s += " " + value(c.Value)
	if c.Dur != c.Value.Quarters() || c.Grace != nil {
		s += fmt.Sprintf(" lasting %v", c.Dur)
	}
	if g := c.Grace; g != nil {
		s += " grace"
		for _, f := range []struct {
			on   bool
			text string
		}{
			{g.Slash, "slash"}, {g.After, "after"}, {g.StealPrevious > 0, fmt.Sprintf("from before %v%%", g.StealPrevious)},
			{g.StealFollowing > 0, fmt.Sprintf("from after %v%%", g.StealFollowing)}, {!g.MakeTime.IsZero(), fmt.Sprint("makes ", g.MakeTime)},
		} {
			if f.on {
				s += " " + f.text
			}
		}
	}
	for _, f := range []struct {
		on   bool
		text string
	}{
		{c.Cue, "cue"}, {c.Hidden, "hidden"}, {c.WholeRest, "whole measure"}, {c.Fermata, "fermata"},
		{c.Arpeggio != "", "arpeggio " + string(c.Arpeggio)}, {len(c.Artic) > 0, fmt.Sprint(c.Artic)}, {len(c.Beams) > 0, fmt.Sprint("beams ", c.Beams)},
	} {
		if f.on {
			s += " " + f.text
		}
	}
	for _, g := range c.Signs {
		s += fmt.Sprintf(" <%s", g.Kind)
		for _, f := range []struct {
			on   bool
			text string
		}{
			{g.Note > 0, fmt.Sprint("on note ", g.Note)}, {g.Placed && g.Above, "above"}, {g.Placed && !g.Above, "below"},
			{g.Line != "", g.Line}, {g.Glyph != "", g.Glyph}, {g.Text != "", g.Text}, {g.Long, "long"}, {g.Slash, "slash"},
			{g.Approach != "", "approach " + g.Approach}, {g.Departure != "", "departure " + g.Departure},
			{g.Sound != (score.TrillSound{}), fmt.Sprintf("%+v", g.Sound)},
		} {
			if f.on {
				s += " " + f.text
			}
		}
		for _, a := range g.Accidentals {
			s += " " + a.Value
			if a.Below {
				s += " below"
			}
		}
		s += ">"
	}
	return s
}
