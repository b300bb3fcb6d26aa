package musicxml

import (
	"agremens/realize/codec/told"
	"regexp"
	"strings"
	"unicode/utf8"

	"agremens/realize/codec/charset"

	"golang.org/x/text/encoding/charmap"
)

var declaration = regexp.MustCompile(`^\s*<\?xml[^>]*?encoding\s*=\s*["']([^"']*)["']`)

// toUTF8 brings a document to UTF-8 without a byte order mark. Files that say
// UTF-8 and are not are read as Windows-1252, with a warning.
func (d *decoder) toUTF8(data []byte) []byte {
	if text, ok := charset.Marked(data); ok {
		return text
	}
	name := ""
	if m := declaration.FindSubmatch(data[:min(len(data), 256)]); m != nil {
		name = strings.ToLower(string(m[1]))
	}
	switch name {
	case "", "utf-8", "utf8", "us-ascii", "ascii", "utf-16":
		// A text that says UTF-16 yet is readable byte by byte is not.
		if utf8.Valid(data) {
			return data
		}
		d.warnings.Add(told.Place{}, "letters with accents were guessed: the file is not in the encoding it names")
		return charset.FromTable(charmap.Windows1252, data)
	}
	if m := tables[name]; m != nil {
		return charset.FromTable(m, data)
	}
	if utf8.Valid(data) {
		return data
	}
	// The marks of the music are the same in every encoding that extends ASCII.
	d.warnings.Add(told.Place{}, "letters with accents were guessed: the file is in an encoding that is not read here ({name})", "{name}", clip(name))
	return charset.FromTable(charmap.Windows1252, data)
}

// tables are the encodings that notation programs have written, by the
// names that a declaration gives them.
var tables = map[string]*charmap.Charmap{
	"iso-8859-1": charmap.Windows1252, "latin1": charmap.Windows1252,
	"windows-1252": charmap.Windows1252, "cp1252": charmap.Windows1252,
	"iso-8859-15": charmap.ISO8859_15,
	"iso-8859-2":  charmap.ISO8859_2, "windows-1250": charmap.Windows1250,
	"windows-1251": charmap.Windows1251,
	"macintosh":    charmap.Macintosh, "x-mac-roman": charmap.Macintosh, "mac": charmap.Macintosh,
}
