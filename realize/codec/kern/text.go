package kern

import (
	"bytes"
	"encoding/binary"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// LooksLike reports whether data begins as a Humdrum file does: comments and
// records, then the exclusive interpretations of the columns.
func LooksLike(data []byte) bool {
	text := string(data[:min(len(data), 64<<10)])
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		text = strings.ReplaceAll(text, "\x00", "")
		text = text[2:]
	}
	text = strings.TrimPrefix(text, "\ufeff")
	for _, line := range strings.FieldsFunc(text, func(c rune) bool { return c == '\n' || c == '\r' }) {
		switch line = strings.TrimLeft(line, " \t"); {
		case line == "" || line[0] == '!':
		default:
			return strings.HasPrefix(line, "**") && len(line) > 2 && line[2] != '*'
		}
	}
	return false
}

// split returns the lines of a file.
func split(data []byte) ([]string, error) {
	if len(data) > maxFile {
		return nil, spot{}.fail(mendSplit, "the file is larger than {n} megabytes", "{n}", strconv.Itoa(maxFile>>20))
	}
	text := decode(data)
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	return strings.Split(text, "\n"), nil
}

// decode turns UTF-8, UTF-16 and Latin-1 into a string.
func decode(data []byte) string {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		order = binary.LittleEndian
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		order = binary.BigEndian
	case utf8.Valid(data):
		return strings.TrimPrefix(string(data), "\ufeff")
	default:
		var b strings.Builder
		for _, c := range data {
			b.WriteRune(rune(c))
		}
		return b.String()
	}
	units := make([]uint16, 0, len(data)/2)
	for i := 2; i+1 < len(data); i += 2 {
		units = append(units, order.Uint16(data[i:]))
	}
	return string(utf16.Decode(units))
}

// entities are the names records use for letters.
var entities = strings.NewReplacer("&colon;", ":", "&amp;", "&", "&lt;", "‹", "&gt;", "›", "&quot;", `"`, "&apos;", "'", "&nbsp;", " ",
	"&auml;", "ä", "&ouml;", "ö", "&uuml;", "ü", "&Auml;", "Ä", "&Ouml;", "Ö", "&Uuml;", "Ü", "&szlig;", "ß",
	"&eacute;", "é", "&egrave;", "è", "&ecirc;", "ê", "&agrave;", "à", "&aacute;", "á", "&acirc;", "â", "&ccedil;", "ç",
	"&iacute;", "í", "&igrave;", "ì", "&oacute;", "ó", "&ograve;", "ò", "&ocirc;", "ô", "&uacute;", "ú", "&ugrave;", "ù",
	"&ntilde;", "ñ", "&oslash;", "ø", "&aring;", "å", "&rcaron;", "ř", "&scaron;", "š", "&ccaron;", "č")

// plain makes one line of readable text of a record: no markup, no entities,
// single spaces, at most 200 letters.
func plain(s string) string {
	s = entities.Replace(strings.ReplaceAll(s, `\n`, " "))
	for {
		from := strings.IndexByte(s, '<')
		if from < 0 {
			break
		}
		to := strings.IndexByte(s[from:], '>')
		if to < 0 {
			break
		}
		s = s[:from] + s[from+to+1:]
	}
	s = strings.ToValidUTF8(strings.Join(strings.Fields(s), " "), "")
	if r := []rune(s); len(r) > 200 {
		s = string(r[:200])
	}
	return s
}

// clip shortens what a message quotes from a file.
func clip(s string) string {
	s = strings.Join(strings.Fields(strings.ToValidUTF8(s, "?")), " ")
	if r := []rune(s); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}
