package practice

import (
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/codec/abc"
)

// signs are those asked for by ear, as ABC writes them before the note.
//
//words:texts label
var signs = [...]struct{ label, mark string }{
	{label: "trill", mark: "!trill!"}, {label: "mordent", mark: "!mordent!"}, {label: "turn", mark: "!turn!"}, {label: "appoggiatura", mark: "{+}"},
}

// tunes are measures of our own for a sign: S stands for it. The sign always
// sits on a half note that is left by step.
var tunes = [...]struct{ key, metre, upper, lower, above string }{
	{"G", "3/4", "d S c2 | B3", "G,3 | G,3", "d"},
	{"F", "4/4", "f e S d2 | c4", "F,2 G,2 | C,4", "e"},
	{"Dm", "3/4", "f S e2 | d3", "D,3 | D,3", "f"},
	{"D", "4/4", "A B S c2 | d4", "D,2 A,,2 | D,4", "d"},
}

// example reads a tune with one sign in the tradition at hand.
func (s *Session) example(tune, sign int) (*realize.Reading, error) {
	t := tunes[tune]
	mark := strings.ReplaceAll(signs[sign].mark, "+", t.above)
	text := "X:1\nT:By ear\nM:" + t.metre + "\nL:1/4\nQ:1/4=66\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:" + t.key +
		"\n[V:R] " + strings.ReplaceAll(t.upper, "S ", mark) + " |]\n[V:L] " + t.lower + " |]\n"
	p, _, err := abc.Decode(text)
	if err != nil {
		return nil, err
	}
	return realize.Read(p, realize.Taste{Tradition: s.m.Reading.Tradition, Prefer: s.m.Prefer, Naming: s.m.Naming, Words: s.words()}), nil
}

// sign plays one ornament and asks which sign it was.
func (s *Session) sign() error {
	for i := range asked {
		tune := s.m.choose(len(tunes), 2*i)
		wanted, right := s.m.choose(len(signs), 2*i+1), -1
		var options []Option
		var heard *realize.Reading
		for k, sign := range signs {
			r, err := s.example(tune, k)
			if err != nil {
				return err
			}
			if len(r.Ornaments) == 0 || len(r.Ornaments[0].Choices) == 0 {
				continue // a tradition without it
			}
			if k == wanted {
				heard, right = r, len(options)
			}
			c := chosen(&r.Ornaments[0])
			options = append(options, Option{Label: s.say(sign.label), Detail: desk.NotesInWords(c), Show: &Show{Reading: r, Ornament: r.Ornaments[0].ID, Printed: true}, reading: r})
		}
		if heard == nil {
			continue
		}
		set := s.m.tapped(round.NoHand, 0, 1)
		set.Play, set.Percent, set.Beat = round.BothHands, 100, false
		set.Soft = true
		c := chosen(&heard.Ornaments[0])
		s.add(
			Step{Act: Hear, Line: s.say("Listen: {n} of {all}", "{n}", strconv.Itoa(i+1), "{all}", strconv.Itoa(asked)), Settings: set, Still: true, reading: heard},
			Step{Act: Ask, Line: s.say("Which sign was it?"), Options: options, Right: right,
				Reveal: s.say("It was a {sign}, {notes}. {reason}", "{sign}", options[right].Label, "{notes}", options[right].Detail, "{reason}", c.Reason)},
			s.compare(options, set),
		)
	}
	if len(s.steps) == 0 {
		return s.noOrnament()
	}
	return nil
}
