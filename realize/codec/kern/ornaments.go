package kern

import (
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// mostStrokes of a tremolo can be written.
const mostStrokes = 8

// sign adds an ornament to a chord. up and down are the sizes of the steps to
// its neighbours in semitones, 0 where the letters do not say.
type signWriter struct {
	d         *draft
	key       music.Key
	asPrinted bool
}

// ornaments turns the letters of a chord's notes into signs.
func (w signWriter) ornaments() {
	at := 0 // index among the pitched notes, as written
	for k := range w.d.written {
		n := &w.d.written[k]
		if !n.hasPitch || n.rest {
			continue
		}
		j := w.d.noteOf(n)
		if j < 0 {
			continue
		}
		w.trill(n, j)
		w.mordent(n, j)
		w.turn(n, j)
		if n.generic {
			w.add(n, j, score.Sign{Kind: score.OtherOrnament, Text: "ornament"}, 0, 0, "", "")
		}
		if n.strokes > 0 {
			w.add(n, j, score.Sign{Kind: score.Tremolo, Text: number(min(n.strokes, mostStrokes))}, 0, 0, "", "")
		}
		at++
	}
}

// noteOf finds a note among those of the chord, which are sorted.
func (d *draft) noteOf(n *note) int {
	for j := range d.Notes {
		if d.Notes[j].Pitch == n.pitch {
			return j
		}
	}
	return -1
}

// size is the step a letter states: capitals are whole tones.
func size(letter byte) int {
	if letter >= 'a' {
		return 1
	}
	return 2
}

func (w signWriter) trill(n *note, j int) {
	if n.trill == "" {
		return
	}
	up := size(n.trill[0])
	switch {
	case len(n.trill) < 3:
		s := score.Sign{Kind: score.TrillMark}
		if n.closingTurn {
			s.Sound.TwoNoteTurn = "whole"
		}
		w.add(n, j, s, up, 0, w.d.key("TR", "acc"), "")
		if len(n.trill) == 2 {
			w.d.Signs = append(w.d.Signs, score.Sign{Kind: score.WavyLine, Line: "start", Note: j})
		}
	case !n.ends: // a line that goes on over a note of its own
		w.add(n, j, score.Sign{Kind: score.WavyLine, Line: "start"}, up, 0, "none", "")
	default:
		w.d.Signs = append(w.d.Signs, score.Sign{Kind: score.WavyLine, Line: "continue", Note: j})
	}
}

func (w signWriter) mordent(n *note, j int) {
	if n.mordent == "" {
		return
	}
	s := score.Sign{Kind: score.InvertedMordent, Long: len(n.mordent) > 1}
	up, down := size(n.mordent[0]), 0
	if n.mordent[0]|0x20 == 'w' {
		s.Kind = score.Mordent
		up, down = 0, up
	}
	acc := w.d.key("MOR", "acc")
	w.add(n, j, s, up, down, acc, acc)
}

// turn reads "S" (after its note), "sS" (over it), "$" and "s$" (from below),
// each followed by the sizes of its first and its second step.
func (w signWriter) turn(n *note, j int) {
	at := strings.IndexAny(n.turn, "S$")
	if at < 0 || at > 1 {
		return
	}
	delayed := at == 0
	inverted := n.turn[at] == '$'
	s := score.Sign{Kind: score.Turn}
	switch {
	case inverted && delayed:
		s.Kind = score.DelayedInvertedTurn
	case inverted:
		s.Kind = score.InvertedTurn
	case delayed:
		s.Kind = score.DelayedTurn
	}
	up, down := 0, 0
	if sizes := n.turn[at+1:]; len(sizes) >= 2 {
		up, down = size(sizes[0]), size(sizes[1])
		if inverted {
			up, down = down, up
		}
	}
	w.add(n, j, s, up, down, w.d.key("TURN", "uacc"), w.d.key("TURN", "lacc"))
}

// add puts a sign on note j. A neighbour that differs from the key signature
// has an accidental with the sign, unless the file says that none is printed; as
// printed, it has the accidentals that the file names. The size of a step whose accidental is not printed
// stands in its sound.
func (w signWriter) add(n *note, j int, s score.Sign, up, down int, above, below string) {
	s.Note = j
	s.Above, s.Placed = n.side > 0, n.side != 0
	pitch := w.d.Notes[j].Pitch
	if w.asPrinted {
		w.accidental(&s, pitch, 1, 0, above)
		w.accidental(&s, pitch, -1, 0, below)
	} else {
		if up > 0 && !w.accidental(&s, pitch, 1, up, above) {
			s.Sound.TrillStep = stepWord(up)
		}
		if down > 0 && !w.accidental(&s, pitch, -1, down, below) {
			s.Sound.TwoNoteTurn = stepWord(down)
		}
	}
	w.d.Signs = append(w.d.Signs, s)
}

func stepWord(semitones int) string {
	if semitones == 1 {
		return "half"
	}
	return "whole"
}

// accidental adds the accidental that a neighbour's distance asks for, or, where
// that is 0, the one that is printed, and reports whether there is one.
func (w signWriter) accidental(s *score.Sign, pitch music.Pitch, step, semitones int, printed string) bool {
	q := music.FromDiatonic(pitch.Diatonic()+step, 0)
	alter := pitch.MIDI() + step*semitones - q.MIDI()
	if semitones == 0 {
		var known bool
		if alter, known = printedAlter[printed]; !known {
			return false
		}
	} else if alter < -2 || alter > 2 || printed == "none" || alter == w.key.Alter(q.Step) && printed == "" {
		return false
	}
	both := s.Kind != score.TrillMark && s.Kind != score.WavyLine && s.Kind != score.Mordent && s.Kind != score.InvertedMordent
	s.Accidentals = append(s.Accidentals, score.AccidentalMark{Value: accidentalWord(alter), Below: step < 0, Placed: both || step < 0})
	return true
}

// printedAlter is how an accidental is written in a layout line.
var printedAlter = map[string]int{"--": -2, "-": -1, "n": 0, "#": 1, "##": 2}

// accidentalWord returns the MusicXML word for an alteration.
func accidentalWord(alter int) string {
	return [...]string{"flat-flat", "flat", "natural", "sharp", "double-sharp"}[alter+2]
}
