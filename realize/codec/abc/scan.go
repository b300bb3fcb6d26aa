package abc

import (
	"strconv"

	"agremens/realize/words"
)

// scanner walks one line of the text.
type scanner struct {
	text []rune
	pos  int
	line int // from 1
}

// peek returns the rune n places on, 0 past the end.
func (s *scanner) peek(n int) rune {
	if s.pos+n < len(s.text) {
		return s.text[s.pos+n]
	}
	return 0
}

func (s *scanner) done() bool { return s.pos >= len(s.text) }

// take consumes r if it is next.
func (s *scanner) take(r rune) bool {
	if s.peek(0) == r && !s.done() {
		s.pos++
		return true
	}
	return false
}

// while consumes the runes that ok accepts.
func (s *scanner) while(ok func(rune) bool) string {
	from := s.pos
	for !s.done() && ok(s.text[s.pos]) {
		s.pos++
	}
	return string(s.text[from:s.pos])
}

// until consumes up to and including end, and returns what stood before it.
func (s *scanner) until(end rune) (string, bool) {
	for i := s.pos; i < len(s.text); i++ {
		if s.text[i] == end {
			inside := string(s.text[s.pos:i])
			s.pos = i + 1
			return inside, true
		}
	}
	return "", false
}

// number consumes a run of digits. Four of them are enough for any length.
func (s *scanner) number() (n int, ok bool, err error) {
	at := s.place()
	digits := s.while(isDigit)
	if digits == "" {
		return 0, false, nil
	}
	n, convErr := strconv.Atoi(digits)
	if convErr != nil || n > 9999 {
		return 0, false, at.fail("the number {n} is too large", "use at most four digits", "{n}", digits)
	}
	return n, true, nil
}

// place is a position in the text.
type place struct{ line, column int }

func (s *scanner) place() place { return place{s.line, s.pos + 1} }

// fail returns an error at a place.
func (p place) fail(what, mend string, fill ...string) error {
	said, step := words.Message{Text: what, Fill: fill}, words.Message{Text: mend, Fill: fill}
	return &Error{Line: p.line, Column: p.column, What: said.String(), Mend: step.String(), what: said, mend: step}
}

func isDigit(r rune) bool  { return r >= '0' && r <= '9' }
func isLetter(r rune) bool { return r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' }
func isBar(r rune) bool    { return r == '|' || r == ':' || r == '[' || r == ']' }
func isNote(r rune) bool   { return r >= 'A' && r <= 'G' || r >= 'a' && r <= 'g' }
