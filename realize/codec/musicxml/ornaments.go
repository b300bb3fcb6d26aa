package musicxml

import "agremens/realize/score"

const maxSigns = 16 // on one note

func signKind(name string) (score.SignKind, bool) {
	switch k := score.SignKind(name); k {
	case score.TrillMark, score.WavyLine, score.Turn, score.DelayedTurn, score.InvertedTurn,
		score.DelayedInvertedTurn, score.VerticalTurn, score.InvertedVerticalTurn, score.Shake,
		score.Mordent, score.InvertedMordent, score.Schleifer, score.Haydn, score.Tremolo, score.OtherOrnament:
		return k, true
	}
	return "", false
}

// readOrnaments reads the signs of a note and the accidentals that stand
// with each.
func (p *part) readOrnaments(w *written) error {
	return p.r.each(func(e element) error {
		if e.name == "accidental-mark" {
			return p.readAccidentalMark(w, e)
		}
		kind, known := signKind(e.name)
		if !known {
			p.warn("an ornament that MusicXML 4.0 does not define was ignored ({name})", "{name}", clip(e.name))
			return nil
		}
		if len(w.chord.Signs) >= maxSigns {
			p.warn("a note carries too many ornament signs; the first were kept")
			return nil
		}
		s := score.Sign{
			Kind: kind,
			Sound: score.TrillSound{
				StartNote:   oneOf(e.attr("start-note"), "upper", "main", "below"),
				TrillStep:   oneOf(e.attr("trill-step"), "whole", "half", "unison"),
				TwoNoteTurn: oneOf(e.attr("two-note-turn"), "whole", "half", "none"),
				Accelerate:  e.attr("accelerate") == "yes",
				Beats:       atof(e.attr("beats"), 2, 1000),
				SecondBeat:  atof(e.attr("second-beat"), 0, 100),
				LastBeat:    atof(e.attr("last-beat"), 0, 100),
			},
			Long:      e.attr("long") == "yes",
			Approach:  oneOf(e.attr("approach"), "above", "below"),
			Departure: oneOf(e.attr("departure"), "above", "below"),
			Slash:     e.attr("slash") == "yes",
		}
		s.Above, s.Placed = placement(e)
		switch kind {
		case score.WavyLine:
			s.Line = oneOf(e.attr("type"), "start", "stop", "continue")
		case score.Tremolo:
			s.Line = oneOf(e.attr("type"), "start", "stop")
		case score.OtherOrnament:
			s.Glyph = clip(e.attr("smufl"))
		}
		if kind == score.Tremolo || kind == score.OtherOrnament {
			text, err := p.r.text()
			if err != nil {
				return err
			}
			s.Text = clip(text)
		}
		w.chord.Signs = append(w.chord.Signs, s)
		return nil
	})
}

func (p *part) readAccidentalMark(w *written, e element) error {
	value, err := p.r.text()
	if err != nil {
		return err
	}
	if len(w.chord.Signs) == 0 {
		p.warn("an accidental above or below a note without an ornament sign was ignored")
		return nil
	}
	s := &w.chord.Signs[len(w.chord.Signs)-1]
	if len(s.Accidentals) < 4 {
		mark := score.AccidentalMark{Value: clip(value), Below: e.attr("placement") == "below"}
		_, mark.Placed = placement(e)
		s.Accidentals = append(s.Accidentals, mark)
	}
	return nil
}

// oneOf returns s if it is one of the words, else "".
func oneOf(s string, words ...string) string {
	for _, w := range words {
		if s == w {
			return s
		}
	}
	return ""
}
