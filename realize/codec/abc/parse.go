package abc

import (
	"slices"
	"strconv"
	"strings"

	"agremens/realize/music"
	"agremens/realize/score"
)

// music reads one line of notes.
func (p *parser) music(s *scanner) error {
	for !s.done() {
		from := s.pos
		if err := p.element(s); err != nil {
			if err := p.forgive(err); err != nil {
				return err
			}
			p.skipBar(s, from)
		}
	}
	p.voice.strand.space = true
	return nil
}

// skipBar passes over the rest of the bar in which an element that began at
// from could not be read.
func (p *parser) skipBar(s *scanner, from int) {
	s.pos = max(s.pos, from+1)
	for !s.done() && s.peek(0) != '|' {
		s.pos++
	}
	p.pending = pending{}
	p.warn(s.place(), "the rest of this bar was left out")
}

// element reads one construct of the tune body.
func (p *parser) element(s *scanner) error {
	v, at, r := p.voice, s.place(), s.peek(0)
	switch {
	case r == ' ' || r == '\t':
		s.pos++
		v.strand.space = true
	case r == '`':
		s.pos++
	case r == '$' || r == '!' && p.breaks.mark:
		s.pos++
		if r == '!' || p.breaks.dollar {
			p.breakLine()
		}
	case r == '%':
		s.pos = len(s.text)
	case r == '\\':
		s.pos++
	case r == '"':
		s.pos++
		text, ok := s.until('"')
		if !ok {
			return at.fail("an annotation has no closing quotation mark", `close it with "`)
		}
		p.annotation(text, at)
	case r == '!' || r == '+':
		s.pos++
		name, ok := s.until(r)
		if !ok {
			return at.fail("a decoration has no closing {mark}", "write !trill! with a mark at both ends", "{mark}", string(r))
		}
		p.decorate(strings.TrimSpace(name), at)
	case r == '{':
		return p.graces(s)
	case r == '(' && isDigit(s.peek(1)):
		return p.tuplet(s)
	case r == '(':
		s.pos++
		if len(v.strand.slurs) >= 32 {
			return at.fail("more than 32 slurs are open at once", "close them with )")
		}
		sl := &slur{at: at}
		v.strand.slurs = append(v.strand.slurs, sl)
		v.strand.opening = append(v.strand.opening, sl)
	case r == ')':
		s.pos++
		p.closeSlur(at)
	case r == '[' && isLetter(s.peek(1)) && s.peek(2) == ':':
		return p.inline(s)
	case r == '[' && (s.peek(1) == ']' || !isBar(s.peek(1))) && !isDigit(s.peek(1)) && s.peek(1) != '"':
		return p.chord(s)
	case r == '.' && (s.peek(1) == '|' || s.peek(1) == '(' || s.peek(1) == '-'):
		s.pos++ // a dotted bar line, slur or tie
		if s.peek(0) == '|' {
			return p.barline(s, "dotted")
		}
	case isBar(r):
		return p.barline(s, "")
	case r == '-':
		s.pos++
		if !p.tieLast(at) {
			p.warn(at, "a tie does not follow a note")
		}
	case r == '<' || r == '>':
		return p.broken(s)
	case r == '&':
		s.pos++
		return p.overlay(at)
	case isNote(r) || r == '^' || r == '_' || r == '=':
		return p.single(s)
	case r == 'z' || r == 'x':
		return p.rest(s)
	case r == 'Z' || r == 'X':
		return p.wholeRests(s)
	case r == 'y':
		s.pos++
		_, err := s.length() // extra room on the page
		return err
	case p.short[r] != "":
		s.pos++
		p.decorate(p.short[r], at)
	default:
		s.pos++
		p.warn(at, "'{mark}' means nothing here and was left out", "{mark}", string(r))
	}
	return nil
}

// accidental reads ^ ^^ _ __ or =.
func (s *scanner) accidental() (alter int, printed bool) {
	switch {
	case s.take('='):
		return 0, true
	case s.take('^'):
		if s.take('^') {
			return 2, true
		}
		return 1, true
	case s.take('_'):
		if s.take('_') {
			return -2, true
		}
		return -1, true
	}
	return 0, false
}

// stepOf returns the letter and the octave (5 for small letters) of a note.
func stepOf(r rune) (music.Step, int) {
	octave := 4
	if r >= 'a' {
		r, octave = r-'a'+'A', 5
	}
	return music.Step(strings.IndexRune("CDEFGAB", r)), octave
}

// pitch reads a note's accidental, letter and octave marks.
func (p *parser) pitch(s *scanner) (score.Note, error) {
	at := s.place()
	alter, printed := s.accidental()
	if !isNote(s.peek(0)) {
		return score.Note{}, at.fail("an accidental does not precede a note", "write it as ^F, _B or =C")
	}
	step, octave := stepOf(s.peek(0))
	s.pos++
	for {
		if s.take('\'') {
			octave++
		} else if s.take(',') {
			octave--
		} else {
			break
		}
	}
	v := p.voice
	octave += v.octave
	if v.clef != nil {
		octave += v.clef.Octave
	}
	if octave < 0 || octave > 9 {
		return score.Note{}, at.fail("this note is outside the range of every keyboard", "remove octave marks")
	}
	n := score.Note{Pitch: music.Pitch{Step: step, Octave: int8(octave)}}
	p.alter(&n, alter, printed)
	return n, nil
}

// alter gives a note its alteration: its own, the tie's, the bar's or the key's.
func (p *parser) alter(n *score.Note, own int, printed bool) {
	v := p.voice
	st, at := v.strand, n.Pitch.Diatonic()
	signature := v.key.Alter(n.Pitch.Step)
	extra, hasExtra := v.extra[n.Pitch.Step]
	if printed {
		n.Pitch.Alter, n.Accidental = int8(own), word(own)
		st.accidentals[at], st.steps[int(n.Pitch.Step)] = own, own
		if p.spread == "not" {
			clear(st.accidentals)
			clear(st.steps)
		}
		return
	}
	n.Pitch.Alter = int8(signature)
	if hasExtra {
		n.Pitch.Alter = extra
	}
	inBar, here := st.accidentals[at]
	if here {
		n.Pitch.Alter = int8(inBar)
	} else if other, ok := st.steps[int(n.Pitch.Step)]; ok && p.spread == "pitch" {
		n.Pitch.Alter = int8(other)
	}
	for _, t := range st.ties {
		if t.pitch.Diatonic() == at {
			n.Pitch.Alter = t.pitch.Alter
			return
		}
	}
	// What the reader of the staff could not know is printed.
	if !here && int(n.Pitch.Alter) != signature {
		n.Accidental = word(int(n.Pitch.Alter))
		st.accidentals[at] = int(n.Pitch.Alter)
	}
}

// word returns an accidental's name in MusicXML.
func word(alter int) string {
	return [5]string{"flat-flat", "flat", "natural", "sharp", "double-sharp"}[alter+2]
}

// single reads a note with its length.
func (p *parser) single(s *scanner) error {
	d := &draft{at: s.place()}
	if err := p.head(s, d); err != nil {
		return err
	}
	return p.place(d)
}

// head reads one note into d; the first one gives the length.
func (p *parser) head(s *scanner, d *draft) error {
	n, err := p.pitch(s)
	if err != nil {
		return err
	}
	length, err := s.length()
	if err != nil {
		return err
	}
	if len(d.Notes) == 0 {
		d.length = length.Mul(p.voice.unit)
	}
	d.Notes = append(d.Notes, n)
	return nil
}

// chord reads [CEG]2 and places it.
func (p *parser) chord(s *scanner) error {
	d, tied, err := p.bracket(s)
	if err != nil {
		return err
	}
	if err := p.place(d); err != nil {
		return err
	}
	for _, pitch := range tied {
		p.tie(d, pitch, d.at)
	}
	return nil
}

// bracket reads a chord and returns the pitches tied within it.
func (p *parser) bracket(s *scanner) (*draft, []music.Pitch, error) {
	at := s.place()
	s.pos++
	d := &draft{at: at}
	var tied []music.Pitch
	outer := p.pending
	p.pending = pending{}
	for {
		switch r := s.peek(0); {
		case s.done():
			return nil, nil, at.fail("a chord has no closing bracket", "close it with ]")
		case r == ']':
			s.pos++
			if len(d.Notes) == 0 {
				return nil, nil, at.fail("a chord has no notes", "write its notes between the brackets: [CEG]")
			}
			multiplier, err := s.length()
			if err != nil {
				return nil, nil, err
			}
			d.length = d.length.Mul(multiplier)
			p.pending = merge(outer, p.pending)
			return d, tied, nil
		case r == ' ':
			s.pos++
		case r == '-':
			s.pos++
			if len(d.Notes) > 0 {
				tied = append(tied, d.Notes[len(d.Notes)-1].Pitch)
			}
		case r == '(' && !isDigit(s.peek(1)) || r == ')' || r == '!' || r == '"' || p.short[r] != "":
			if err := p.element(s); err != nil {
				return nil, nil, err
			}
		case isNote(r) || r == '^' || r == '_' || r == '=':
			if len(d.Notes) >= 20 {
				return nil, nil, s.place().fail("a chord has more notes than two hands can play", "remove notes")
			}
			if err := p.head(s, d); err != nil {
				return nil, nil, err
			}
			p.dressHead(d)
		default:
			return nil, nil, s.place().fail("'{mark}' is not allowed in a chord", "write notes only: [CEG]", "{mark}", string(r))
		}
	}
}

// dressHead gives the last note of a chord what stood before it in the brackets.
func (p *parser) dressHead(d *draft) {
	n, inner := &d.Notes[len(d.Notes)-1], &p.pending
	n.Fingering, inner.fingering = inner.fingering, ""
	n.Parentheses, inner.courtesy = inner.courtesy, false
	for i := range inner.signs {
		if inner.signs[i].Note == 0 {
			inner.signs[i].Note = len(d.Notes) // one too many: 0 is the outer note
		}
	}
}

// graceChord reads one small note or small chord.
func (p *parser) graceChord(s *scanner) (*draft, error) {
	at, r := s.place(), s.peek(0)
	switch {
	case r == '[':
		d, _, err := p.bracket(s)
		return d, err
	case isNote(r) || r == '^' || r == '_' || r == '=':
		d := &draft{at: at}
		return d, p.head(s, d)
	}
	return nil, at.fail("'{mark}' is not allowed among grace notes", "write notes only: {gf}", "{mark}", string(r))
}

func merge(a, b pending) pending {
	a.signs = append(a.signs, b.signs...)
	a.accidentals = append(a.accidentals, b.accidentals...)
	a.artic = append(a.artic, b.artic...)
	a.marks = append(a.marks, b.marks...)
	a.fermata, a.arpeggio = a.fermata || b.fermata, a.arpeggio || b.arpeggio
	if a.at == (place{}) {
		a.at = b.at
	}
	return a
}

// rest reads z2 and x2. An invisible rest is a gap.
func (p *parser) rest(s *scanner) error {
	at, r := s.place(), s.peek(0)
	s.pos++
	length, err := s.length()
	if err != nil {
		return err
	}
	d := &draft{at: at, length: length.Mul(p.voice.unit)}
	d.Hidden = r == 'x'
	return p.place(d)
}

// wholeRests reads Z4: bars of rest.
func (p *parser) wholeRests(s *scanner) error {
	at, r := s.place(), s.peek(0)
	s.pos++
	n, ok, err := s.number()
	if err != nil {
		return err
	}
	if !ok {
		n = 1
	}
	v := p.voice
	if n == 0 || n+len(v.bars) > maxMeasures {
		return at.fail("too many bars of rest", "a passage has up to {n} bars", "{n}", strconv.Itoa(maxMeasures))
	}
	if v.bar != nil && (n > 1 || slices.ContainsFunc(v.bar.items[v.strandIndex()], func(it item) bool { return it.chord != nil })) {
		return at.fail("a whole-bar rest is inside a bar", "put a bar line before it, or write z for a rest")
	}
	if v.strand.tuplet != nil {
		return at.fail("a whole-bar rest is inside a tuplet", "count the notes of the tuplet before it")
	}
	for i := range n {
		d := &draft{at: at, length: v.metre.Bar()}
		d.Hidden, d.WholeRest = r == 'X', true
		if err := p.place(d); err != nil {
			return err
		}
		if i < n-1 {
			if err := p.closeBar(barline{}); err != nil {
				return err
			}
		}
	}
	return nil
}

// inline reads [K:G], [V:2] and the like.
func (p *parser) inline(s *scanner) error {
	at := s.place()
	name := s.peek(1)
	s.pos += 3
	text, ok := s.until(']')
	if !ok {
		return at.fail("an inline field has no closing bracket", "close it with ]")
	}
	switch name {
	case 'K', 'M', 'L', 'Q', 'V', 'I', 'U', 'r', 'N', 'R':
		return p.field(name, text, at)
	}
	p.warn(at, "the field {name}: is not allowed inside a line", "{name}", string(name))
	return nil
}

// overlay reads &: the time of the bar starts again in another strand.
func (p *parser) overlay(at place) error {
	v := p.voice
	if v.bar == nil {
		return at.fail("& comes before all the notes of its bar", "write the upper notes first: A4 & F4")
	}
	p.dropPending()
	i := v.strandIndex() + 1
	if i >= maxVoices {
		return at.fail("too many overlays", "use at most {n}", "{n}", strconv.Itoa(maxVoices))
	}
	for len(v.strands) <= i {
		v.strands = append(v.strands, newStrand())
	}
	if i == 1 {
		// The overlay starts in the key the bar started in.
		v.keyAfter, v.key = v.key, v.bar.key
	}
	v.strand = v.strands[i]
	for len(v.bar.items) <= i {
		v.bar.items = append(v.bar.items, nil)
	}
	v.strand.space = true
	return nil
}

// dropPending warns of signs that found no note.
func (p *parser) dropPending() {
	if p.pending.at != (place{}) {
		p.warn(p.pending.at, "this does not precede a note and was left out")
	}
	p.pending = pending{}
}
