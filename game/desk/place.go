package desk

import (
	"strings"
	"unicode/utf16"
)

// TextPlace is a place in a text: its line as three pieces, and where the
// marked piece stands in the whole text, in UTF-16 units as browsers count.
type TextPlace struct {
	Before, Marked, After string
	From, To              int
}

// FindPlace finds the character at a line and column, both counted from 1,
// columns in characters. A place past the end of the line is its end.
func FindPlace(text string, line, column int) TextPlace {
	lines := strings.SplitAfter(text, "\n")
	line = min(max(line, 1), len(lines))
	head := strings.Join(lines[:line-1], "")
	body := []rune(strings.TrimRight(lines[line-1], "\r\n"))
	at := min(max(column-1, 0), len(body))
	end := min(at+1, len(body))
	p := TextPlace{Before: string(body[:at]), Marked: string(body[at:end]), After: string(body[end:])}
	p.From = units(head + p.Before)
	p.To = p.From + units(p.Marked)
	return p
}

func units(s string) int { return len(utf16.Encode([]rune(s))) }
