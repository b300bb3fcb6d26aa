package kern

import (
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// note is one note or rest of a token as it is written.
type note struct {
	rest        bool
	hasPitch    bool
	pitch       music.Pitch
	forced      bool // "X": the accidental is printed whatever the bar says
	unprinted   bool // "y" after the accidental: it is not
	hidden      bool // "yy": nothing of the note is printed
	length      length
	grace       int // 0, 1 with a stroke (q), 2 without (qq)
	begins      bool
	ends        bool
	opens       []curve
	closes      []curve
	beams       beamMarks
	stem        score.Stem
	artic       []score.Articulation
	fermata     bool
	arpeggio    bool
	sforzando   string
	trill       string // the letters of the ornament, "" none
	turn        string
	mordent     string
	generic     bool
	side        int // of the ornament: 1 above, -1 below, 0 not given
	closingTurn bool
	twice       bool // two lengths are written
	skips       bool // "[[", "]]", "__": the tie passes over other notes
	strokes     int  // of a tremolo, where the file has a letter for one
	unpitched   bool // "R" without a pitch: it stands as a rest
	unknown     string
}

// curve is one end of a slur or phrase.
type curve struct {
	phrase bool
	level  int // how many "&" stand before it: nested or crossing curves
	linked bool
	side   int
}

// beamMarks counts the letters of a token.
type beamMarks struct{ begins, ends, forward, backward int }

// letters holds what a file itself says of letters in its notes.
type letters struct {
	linked  string // letters that join curves across voices
	tremolo string // letters of which each is a stroke of a tremolo
	other   string // letters with another meaning of the file's own
}

// parseNote reads one note. ok is false where it cannot be one.
func parseNote(text string, own letters) (n note, ok bool) {
	level, linked := 0, false
	at := &n.side // what "<" and ">" say the side of
	last, letter := byte(0), byte(0)
	times, dots, division := 0, 0, ""
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case strings.IndexByte(own.tremolo, c) >= 0:
			n.strokes++
		case c == '.':
			dots++
		case c >= '0' && c <= '9':
			k := i
			for k < len(text) && (text[k] >= '0' && text[k] <= '9' || text[k] == '%') {
				k++
			}
			if division == "" {
				division = text[i:k]
			} else {
				n.twice = true
			}
			i = k - 1
		case c >= 'a' && c <= 'g' || c >= 'A' && c <= 'G':
			if n.hasPitch && c != letter {
				return n, false
			}
			n.hasPitch, letter = true, c
			times++
		case n.hasPitch && c == '#':
			n.pitch.Alter++
		case n.hasPitch && c == '-':
			n.pitch.Alter--
		case n.hasPitch && c == 'n':
		case n.hasPitch && (c == 'X' || c == 'x'):
			n.forced = true
		case c == 'r':
			n.rest = true
		case c == 'q':
			n.grace++
		case c == 'Q':
			n.grace = 2
		case c == '[':
			n.skips = n.skips || last == c
			n.begins = true
		case c == '_':
			n.skips = n.skips || last == c
			n.begins, n.ends = true, true
		case c == ']':
			n.skips = n.skips || last == c
			n.ends = true
		case c == '&':
			level++
		case strings.IndexByte(own.linked, c) >= 0:
			linked = true
		case c == '(' || c == '{':
			n.opens = append(n.opens, curve{phrase: c == '{', level: level, linked: linked})
			at = &n.opens[len(n.opens)-1].side
			level, linked = 0, false
		case c == ')' || c == '}':
			n.closes = append(n.closes, curve{phrase: c == '}', level: level, linked: linked})
			level, linked = 0, false
		case c == '>' || c == '<':
			if strings.IndexByte("({TtMmWwSs$O", last) >= 0 && *at == 0 {
				*at = 1
				if c == '<' {
					*at = -1
				}
			}
		case c == 'L':
			n.beams.begins++
		case c == 'J':
			n.beams.ends++
		case c == 'K':
			n.beams.forward++
		case c == 'k':
			n.beams.backward++
		case c == '/':
			n.stem = score.StemUp
		case c == '\\':
			n.stem = score.StemDown
		case c == 'T' || c == 't':
			n.trill += string(c)
			at = &n.side
		case c == 'M' || c == 'm' || c == 'W' || c == 'w':
			n.mordent += string(c)
			at = &n.side
		case c == 'S' || c == 's' || c == '$':
			n.turn += string(c)
			at = &n.side
		case c == 'O':
			n.generic = true
			at = &n.side
		case c == 'R':
			n.closingTurn = true
		case c == ';':
			n.fermata = true
		case c == ':':
			n.arpeggio = true
		case c == 'z':
			n.sforzando += "z"
		case c == 'y':
			switch {
			case last == 'y':
				n.hidden = true
			case last == 'z':
				n.sforzando = ""
			case last == 'r':
				n.hidden = true
			case strings.IndexByte("#-nXx", last) >= 0:
				n.unprinted = true
			}
		case articOf(c) != "":
			n.articulate(articOf(c))
		case strings.IndexByte(passedOver, c) >= 0 || strings.IndexByte(own.other, c) >= 0:
		default:
			n.unknown += string(c)
		}
		last = c
	}
	if n.hasPitch {
		if times > 6 || n.pitch.Alter < -2 || n.pitch.Alter > 2 {
			return n, false
		}
		alter := n.pitch.Alter
		n.pitch = pitchOf(letter, times)
		n.pitch.Alter = alter
	}
	if division != "" || dots > 0 {
		if !n.length.parse(division, dots) {
			return n, false
		}
	}
	if n.closingTurn && !n.hasPitch && !n.rest {
		n.unpitched, n.rest = true, true
	}
	return n, n.rest || n.hasPitch
}

// passedOver are letters that change nothing here: appoggiaturas marked as
// such (their small print says it), bowing, editors' marks, a forced print.
const passedOver = "PpuvXxijlNVZU?+|!\"o"

// pitchOf reads a pitch letter: c is middle C, cc the octave above, C below.
func pitchOf(letter byte, times int) music.Pitch {
	octave := 3 + times
	if letter < 'a' {
		octave = 4 - times
	} else {
		letter -= 'a' - 'A'
	}
	return music.Pitch{Step: music.Step((int(letter-'A') + 5) % 7), Octave: int8(octave)}
}

func articOf(c byte) score.Articulation {
	switch c {
	case '\'':
		return "staccato"
	case '`':
		return "staccatissimo"
	case '~':
		return "tenuto"
	case '^':
		return "accent"
	case ',':
		return "breath-mark"
	}
	return ""
}

// articulate adds an articulation; the accent twice is the strong one.
func (n *note) articulate(a score.Articulation) {
	for i, b := range n.artic {
		if a == b && a == "accent" {
			n.artic[i] = "strong-accent"
		}
		if a == b {
			return
		}
	}
	n.artic = append(n.artic, a)
}
