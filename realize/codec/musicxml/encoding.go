package musicxml

import (
	"bytes"
	"encoding/binary"
	"regexp"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

var declaration = regexp.MustCompile(`^\s*<\?xml[^>]*?encoding\s*=\s*["']([^"']*)["']`)

// toUTF8 brings a document to UTF-8 without a byte order mark. Files that say
// UTF-8 and are not are read as Windows-1252, with a warning.
func (d *decoder) toUTF8(data []byte) ([]byte, error) {
	switch {
	case bytes.HasPrefix(data, []byte{0xEF, 0xBB, 0xBF}):
		data = data[3:]
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return fromUTF16(data[2:], binary.BigEndian), nil
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		return fromUTF16(data[2:], binary.LittleEndian), nil
	case bytes.HasPrefix(data, []byte{0, '<'}):
		return fromUTF16(data, binary.BigEndian), nil
	case bytes.HasPrefix(data, []byte{'<', 0}):
		return fromUTF16(data, binary.LittleEndian), nil
	}
	name := ""
	if m := declaration.FindSubmatch(data[:min(len(data), 256)]); m != nil {
		name = strings.ToLower(string(m[1]))
	}
	switch name {
	case "", "utf-8", "utf8", "us-ascii", "ascii", "utf-16":
		// A text that says UTF-16 yet is readable byte by byte is not.
		if utf8.Valid(data) {
			return data, nil
		}
		d.warnings.add(spot{}, "letters with accents were guessed: the file is not in the encoding it names")
		return fromWindows1252(data), nil
	case "iso-8859-1", "latin1", "iso-8859-15", "windows-1252", "cp1252":
		return fromWindows1252(data), nil
	}
	if utf8.Valid(data) {
		return data, nil
	}
	return nil, fileError(ErrUnsupported, "export the piece again, choosing UTF-8", "its text is in an encoding we do not read ({text})", "{text}", clip(name))
}

func fromUTF16(data []byte, order binary.ByteOrder) []byte {
	units := make([]uint16, len(data)/2)
	for i := range units {
		units[i] = order.Uint16(data[2*i:])
	}
	out := make([]byte, 0, len(units))
	for _, r := range utf16.Decode(units) {
		out = utf8.AppendRune(out, r)
	}
	return out
}

// windows1252 holds what 0x80 to 0x9F mean there; the rest is Latin-1.
var windows1252 = [32]rune{
	'€', 0x81, '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', 0x8D, 'Ž', 0x8F,
	0x90, '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', 0x9D, 'ž', 'Ÿ',
}

func fromWindows1252(data []byte) []byte {
	out := make([]byte, 0, len(data)+len(data)/8)
	for _, b := range data {
		switch {
		case b < 0x80:
			out = append(out, b)
		case b < 0xA0:
			out = utf8.AppendRune(out, windows1252[b-0x80])
		default:
			out = utf8.AppendRune(out, rune(b))
		}
	}
	return out
}
