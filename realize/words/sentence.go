package words

import (
	"strings"
	"unicode/utf8"
)

// Sentence begins a text with a capital and ends it with one full stop; ""
// stays "".
func Sentence(text string) string {
	if text == "" {
		return ""
	}
	_, size := utf8.DecodeRuneInString(text)
	return strings.ToUpper(text[:size]) + strings.TrimSuffix(text[size:], ".") + "."
}
