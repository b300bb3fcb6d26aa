// Package charset brings the text of a file to UTF-8.
package charset

import (
	"bytes"
	"encoding/binary"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// Marked decodes text that shows by its first bytes that it is UTF-16, with
// or without a byte order mark, or UTF-8 with one. It reports false, and
// returns data as it is, for all other text.
func Marked(data []byte) ([]byte, bool) {
	switch {
	case bytes.HasPrefix(data, []byte{0xEF, 0xBB, 0xBF}):
		return data[3:], true
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return fromUTF16(data[2:], binary.BigEndian), true
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		return fromUTF16(data[2:], binary.LittleEndian), true
	case len(data) > 3 && data[0] == 0 && data[1] != 0 && data[2] == 0:
		return fromUTF16(data, binary.BigEndian), true
	case len(data) > 3 && data[0] != 0 && data[1] == 0 && data[3] == 0:
		return fromUTF16(data, binary.LittleEndian), true
	}
	return data, false
}

// Text decodes text of unknown encoding: what its first bytes show, UTF-8
// where it is valid, else Windows-1252, the commonest of the older ones.
func Text(data []byte) string {
	if text, ok := Marked(data); ok {
		return string(text)
	}
	if utf8.Valid(data) {
		return string(data)
	}
	return string(FromTable(charmap.Windows1252, data))
}

// FromTable decodes text of an encoding with one byte a letter.
func FromTable(m *charmap.Charmap, data []byte) []byte {
	out := make([]byte, 0, len(data)+len(data)/8)
	for _, b := range data {
		out = utf8.AppendRune(out, m.DecodeByte(b))
	}
	return out
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
