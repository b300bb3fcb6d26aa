// Package glossary is every sign the program knows, with its names in four
// languages and what each tradition makes of it. Names change between
// countries, schools and examination boards: the sign's picture and its notes
// always belong beside them. It is pure; pictures are drawn from [Entry.Example].
package glossary

import (
	"slices"

	"agremens/realize"
	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Language is one of the four in which a sign is named.
type Language int

// The languages, in the order in which they are shown.
const (
	English Language = iota
	German
	French
	Italian
	languages
)

// String returns the language's English name.
func (l Language) String() string { return languageNames[l] }

//words:texts
var languageNames = [...]string{"English", "German", "French", "Italian"}

// Languages returns all of them.
func Languages() []Language { return []Language{English, German, French, Italian} }

// Name is one name of a sign, and how it is known.
type Name struct {
	Text   string
	Status realize.Status
	Of     string // whose word it is, where it is not everybody's
}

// Entry is one sign.
type Entry struct {
	Key string // the figure's ([realize.Figures]), and "stroked-note"
	// Asks says in a sentence what the sign asks for everywhere.
	Asks  string
	Names [languages][]Name
	note  string     // in ABC: the note in its measure
	sign  score.Sign // put on the note, where ABC has no word for it
}

// Title is the sign's usual name in a language, English where there is none.
func (e *Entry) Title(c *words.Catalogue) string {
	if c.Language() == "de" && len(e.Names[German]) > 0 {
		return e.Names[German][0].Text
	}
	return e.Names[English][0].Text
}

// Entries returns all signs, those met most often first.
func Entries() []Entry { return slices.Clone(entries) }

// Find returns the entry of a key.
func Find(key string) (Entry, bool) {
	for _, e := range entries {
		if e.Key == key {
			return e, true
		}
	}
	return Entry{}, false
}

// Of returns the key of the entry that tells of an ornament, "" where there is
// none.
func Of(o *realize.Ornament) string {
	key := o.Figure
	if key == "small-note" && slices.Contains(o.Signs, "slash") {
		key = "stroked-note"
	}
	if _, ok := Find(key); !ok {
		return ""
	}
	return key
}

// Example returns the sign on a plain note with a bass beneath it, read as a
// tradition does, its notes called by n, in the words of c; its ornament is the
// reading's first.
func (e *Entry) Example(tradition string, n music.Naming, c *words.Catalogue) (*realize.Reading, error) {
	p, _, err := abc.Decode("M:4/4\nL:1/4\nQ:1/4=72\n%%score {R L}\nV:R clef=treble\nV:L clef=bass\nK:C\n" +
		"[V:R]" + e.note + "|]\n[V:L]C,4|C,4|]\n")
	if err != nil {
		return nil, err
	}
	if e.sign.Kind != "" {
		for i := range p.Chords {
			at := &p.Chords[i]
			if at.Staff == 1 && at.Grace == nil && len(at.Notes) > 0 && len(at.Signs) == 0 && at.Onset.Sign() > 0 {
				if p, err = p.WithSign(at.Top().ID, e.sign); err != nil {
					return nil, err
				}
				break
			}
		}
	}
	return realize.Read(p, realize.Taste{Tradition: tradition, Naming: n, Words: c}), nil
}
