package musicxml

import (
	"strconv"

	"agremens/realize/score"
)

// ornaments writes the signs that the passage keeps on note j.
func (w *encoder) ornaments(c *score.Chord, j int) {
	open := false
	for i := range c.Signs {
		s := &c.Signs[i]
		if _, known := signKind(string(s.Kind)); !known || s.Note != j {
			continue
		}
		if !open {
			w.start("ornaments")
			open = true
		}
		w.sign(s)
		for _, a := range s.Accidentals {
			if accidentalValues[a.Value] {
				w.text("accidental-mark", a.Value, side(nil, !a.Below, a.Placed || a.Below)...)
			}
		}
	}
	if open {
		w.end()
	}
}

func (w *encoder) sign(s *score.Sign) {
	attrs := side(nil, s.Above, s.Placed)
	name := string(s.Kind)
	switch s.Kind {
	case score.Tremolo:
		if s.Line != "" {
			attrs = append(attrs, "type", s.Line)
		}
		strokes, ok := atoi(s.Text, 0, 8)
		if !ok {
			strokes = 3
		}
		w.text(name, strconv.Itoa(strokes), attrs...)
		return
	case score.OtherOrnament:
		if smuflNames.MatchString(s.Glyph) {
			attrs = append(attrs, "smufl", s.Glyph)
		}
		w.text(name, s.Text, attrs...)
		return
	case score.Schleifer:
		w.empty(name, attrs...)
		return
	case score.WavyLine:
		line := s.Line
		if line == "" {
			line = "start"
		}
		attrs = append(attrs, "type", line, "number", "1")
	case score.Mordent, score.InvertedMordent:
		attrs = given(attrs, "approach", s.Approach)
		attrs = given(attrs, "departure", s.Departure)
		if s.Long {
			attrs = append(attrs, "long", "yes")
		}
	case score.Turn, score.DelayedTurn, score.InvertedTurn, score.DelayedInvertedTurn:
		if s.Slash {
			attrs = append(attrs, "slash", "yes")
		}
	}
	w.empty(name, trillSound(attrs, s.Sound)...)
}

func trillSound(attrs []string, t score.TrillSound) []string {
	attrs = given(attrs, "start-note", t.StartNote)
	attrs = given(attrs, "trill-step", t.TrillStep)
	attrs = given(attrs, "two-note-turn", t.TwoNoteTurn)
	if t.Accelerate {
		attrs = append(attrs, "accelerate", "yes")
	}
	for _, n := range []struct {
		name string
		x    float64
	}{{"beats", t.Beats}, {"second-beat", t.SecondBeat}, {"last-beat", t.LastBeat}} {
		if n.x > 0 {
			attrs = append(attrs, n.name, decimal(n.x))
		}
	}
	return attrs
}

func given(attrs []string, name, value string) []string {
	if value == "" {
		return attrs
	}
	return append(attrs, name, value)
}
