package words

import (
	"errors"
	"strings"
	"unicode/utf8"
)

// The packed form is UTF-8 text: records parted by U+001E, their fields by
// U+001F. The first record is the form's name, the language and its decimal
// sign; every other one a key (the English text, or a context, U+0004 and the
// text), its translation and, where things are counted, that for many.
const (
	packedName = "agremens words 1"
	recordMark = "\x1e"
	fieldMark  = "\x1f"

	maxPacked = 1 << 20 // bytes; German takes about a fifth
)

// Text is one entry of a catalogue.
type Text struct {
	Context string // "" in most
	English string
	// Said is the translation; Many the one for numbers other than 1, "" where
	// nothing is counted.
	Said, Many string
}

// Pack writes a language's texts as [Parse] reads them.
func Pack(language, decimal string, texts []Text) []byte {
	var b strings.Builder
	b.WriteString(packedName + fieldMark + language + fieldMark + decimal)
	for _, t := range texts {
		b.WriteString(recordMark)
		if t.Context != "" {
			b.WriteString(t.Context + contextMark)
		}
		b.WriteString(t.English + fieldMark + t.Said)
		if t.Many != "" {
			b.WriteString(fieldMark + t.Many)
		}
	}
	return []byte(b.String())
}

// Parse reads the packed form. It fails on anything else, on a text that
// stands twice and beyond a megabyte.
func Parse(file []byte) (*Catalogue, error) {
	if len(file) > maxPacked || !utf8.Valid(file) {
		return nil, errors.New("words: not a catalogue: too long, or not text")
	}
	head, rest, more := strings.Cut(string(file), recordMark)
	fields := strings.Split(head, fieldMark)
	if len(fields) != 3 || fields[0] != packedName || fields[1] == "" || fields[2] == "" {
		return nil, errors.New("words: not a catalogue of this version")
	}
	c := &Catalogue{language: fields[1], decimal: fields[2], texts: map[string]string{}, many: map[string]string{}}
	for more {
		var record string
		record, rest, more = strings.Cut(rest, recordMark)
		key, said, ok := strings.Cut(record, fieldMark)
		said, many, _ := strings.Cut(said, fieldMark)
		if !ok || key == "" || said == "" || strings.Contains(many, fieldMark) {
			return nil, errors.New("words: a text has no translation: " + key)
		}
		if c.texts[key] != "" {
			return nil, errors.New("words: a text stands twice: " + key)
		}
		c.texts[key] = said
		if many != "" {
			c.many[key] = many
		}
	}
	return c, nil
}
