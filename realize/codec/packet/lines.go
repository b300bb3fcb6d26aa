package packet

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// writer writes lines of "name value". Line breaks and backslashes in values
// are written \n and \\.
type writer struct{ strings.Builder }

var escape = strings.NewReplacer("\\", "\\\\", "\n", "\\n", "\r", "")

// text writes a line; an empty value is left out.
func (w *writer) text(name, value string) {
	if value == "" {
		return
	}
	w.WriteString(name)
	w.WriteByte(' ')
	escape.WriteString(w, value)
	w.WriteByte('\n')
}

// number writes a line with a number of at most six digits; 0 is left out, and
// so is what no one could read.
func (w *writer) number(name string, value float64) {
	if value != 0 && !math.IsNaN(value) && !math.IsInf(value, 0) {
		w.text(name, strconv.FormatFloat(value, 'g', 6, 64))
	}
}

// eachLine calls f for every line. Lines that are none are left out.
func eachLine(text string, f func(name, value string)) {
	for line := range strings.Lines(text) {
		if name, value, ok := strings.Cut(strings.TrimSuffix(line, "\n"), " "); ok {
			f(name, unescape(value))
		}
	}
}

func unescape(s string) string {
	if !strings.Contains(s, "\\") {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] != '\\' || i+1 == len(s):
			b.WriteByte(s[i])
		case s[i+1] == 'n':
			b.WriteByte('\n')
			i++
		default:
			b.WriteByte(s[i+1])
			i++
		}
	}
	return b.String()
}

// unread are the names of what a packet says in numbers that make no sense.
// Nothing else depends on one of these numbers, so each is left at its default
// and named, and the rest is read.
type unread []string

// number reads a number from low to high. Anything else, no number at all
// among it, is 0 and goes into the list under its name.
func (u *unread) number(name, s string, low, high float64) float64 {
	if v, err := strconv.ParseFloat(s, 64); err == nil && v >= low && v <= high {
		return v
	}
	u.add(name)
	return 0
}

// count reads a count from 0 to most, in the same way.
func (u *unread) count(name, s string, most int) int {
	if n, err := strconv.Atoi(s); err == nil && n >= 0 && n <= most {
		return n
	}
	u.add(name)
	return 0
}

func (u *unread) add(name string) {
	if !slices.Contains(*u, name) {
		*u = append(*u, name)
	}
}

// clipped returns at most n letters of a text that came from outside, without
// control characters but line breaks.
func clipped(s string, n int) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\n' || r == 0x7f || r == '\uFFFD' {
			return -1
		}
		return r
	}, s)
	if runes := []rune(s); len(runes) > n {
		return string(runes[:n])
	}
	return s
}
