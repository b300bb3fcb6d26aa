package realize

import (
	"unicode"
	"unicode/utf8"

	"agremens/realize/words"
)

// say translates a text of the reading and fills it.
func (r *reader) say(english string, fill ...string) string {
	return r.taste.Words.Say(english, fill...)
}

func (pl *place) say(english string, fill ...string) string { return pl.r.say(english, fill...) }

// in translates a word that means two things in English.
func (pl *place) in(context, english string) string { return pl.r.taste.Words.In(context, english) }

// source returns what a rule rests on, in the reader's language.
func (r *reader) source(key string) Source {
	t, known := sources[key]
	if !known {
		panic("realize: no source " + key)
	}
	t.Text = r.say(t.Text)
	return t.Source
}

// In returns a status in a language's words.
func (s Status) In(c *words.Catalogue) string { return c.Say(string(s)) }

// capital writes a text's first letter large.
func capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}
