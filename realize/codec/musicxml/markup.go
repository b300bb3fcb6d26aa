package musicxml

import (
	"regexp"
	"strings"
	"unicode/utf8"
)

// markup writes indented XML.
type markup struct {
	buf  []byte
	open []string
}

func (m *markup) indent() {
	for range m.open {
		m.buf = append(m.buf, ' ')
	}
}

func (m *markup) line(s string) { m.buf = append(append(m.buf, s...), '\n') }

func (m *markup) tag(name, close string, attrs []string) {
	m.buf = append(append(m.buf, '<'), name...)
	for i := 0; i+1 < len(attrs); i += 2 {
		m.buf = append(append(append(m.buf, ' '), attrs[i]...), `="`...)
		m.escape(attrs[i+1])
		m.buf = append(m.buf, '"')
	}
	m.buf = append(m.buf, close...)
}

// start opens an element; attrs are names and values in turn.
func (m *markup) start(name string, attrs ...string) {
	m.indent()
	m.tag(name, ">\n", attrs)
	m.open = append(m.open, name)
}

// end closes the element opened last.
func (m *markup) end() {
	name := m.open[len(m.open)-1]
	m.open = m.open[:len(m.open)-1]
	m.indent()
	m.buf = append(append(append(m.buf, "</"...), name...), ">\n"...)
}

func (m *markup) empty(name string, attrs ...string) {
	m.indent()
	m.tag(name, "/>\n", attrs)
}

// text writes an element that holds text only.
func (m *markup) text(name, s string, attrs ...string) {
	m.indent()
	m.tag(name, ">", attrs)
	m.escape(s)
	m.buf = append(append(append(m.buf, "</"...), name...), ">\n"...)
}

// escape writes text; what XML cannot hold becomes a replacement character.
func (m *markup) escape(s string) {
	for _, r := range s {
		switch {
		case r == '<':
			m.buf = append(m.buf, "&lt;"...)
		case r == '>':
			m.buf = append(m.buf, "&gt;"...)
		case r == '&':
			m.buf = append(m.buf, "&amp;"...)
		case r == '"':
			m.buf = append(m.buf, "&quot;"...)
		case r < ' ' && r != '\n' && r != '\t', r == 0xFFFE, r == 0xFFFF:
			m.buf = append(m.buf, "\uFFFD"...)
		default:
			m.buf = utf8.AppendRune(m.buf, r)
		}
	}
}

var (
	xmlNames   = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9._-]*$`)
	smuflNames = regexp.MustCompile(`^[A-Za-z0-9]+$`)
)

// xmlName reports whether s can be an XML id.
func xmlName(s string) bool { return len(s) < 200 && xmlNames.MatchString(s) }

// plainWords returns the words of a list, as a set.
func plainWords(list string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(list) {
		m[w] = true
	}
	return m
}
