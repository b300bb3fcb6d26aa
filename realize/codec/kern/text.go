package kern

import (
	"strings"

	"agremens/realize/codec/charset"
	"agremens/realize/codec/told"
)

// LooksLike reports whether data begins as a Humdrum file does: comments and
// records, then the exclusive interpretations of the columns.
func LooksLike(data []byte) bool {
	text := charset.Text(data[:min(len(data), 64<<10)])
	for line := range strings.FieldsFuncSeq(text, func(c rune) bool { return c == '\n' || c == '\r' }) {
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
		return nil, fail(told.Place{}, mendSplit, "the file is larger than {n} megabytes", "{n}", number(maxFile>>20))
	}
	text := strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(charset.Text(data))
	return strings.Split(text, "\n"), nil
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
