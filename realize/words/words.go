// Package words holds what is said to people in another language. The English
// text is the key, as in gettext, and a whole sentence is one text: what
// changes in it are {places}. What a translation lacks is said in English.
package words

import (
	"strconv"
	"strings"
)

// Catalogue holds a language's texts. The nil Catalogue is English: every text
// is itself. It never changes once it is made.
type Catalogue struct {
	language string
	decimal  string            // the decimal sign
	texts    map[string]string // by text, or context + contextMark + text
	many     map[string]string // by the text for one: the text for another number
}

// contextMark parts a context from its text in a key, as in gettext's files.
const contextMark = "\x04"

// Language returns the language's code by BCP 47: "en", "de".
func (c *Catalogue) Language() string {
	if c == nil {
		return "en"
	}
	return c.language
}

// Say translates an English text, then fills its places. The fill is places
// and what replaces them by turns: Say("Bar {n}", "{n}", "3"). A place that
// is not filled stays as it is.
func (c *Catalogue) Say(english string, fill ...string) string {
	return Fill(c.look(english, english), fill...)
}

// In is [Catalogue.Say] for a text that means two things in English, told
// apart by a context: In("verb", "Open").
func (c *Catalogue) In(context, english string, fill ...string) string {
	return Fill(c.look(context+contextMark+english, english), fill...)
}

// Count says the first text where n is 1 and the second elsewhere, and fills
// {n} with the number.
func (c *Catalogue) Count(n int, one, many string, fill ...string) string {
	text := one
	switch {
	case n == 1:
		text = c.look(one, one)
	case c == nil || c.many[one] == "":
		text = many
	default:
		text = c.many[one]
	}
	return Fill(text, append([]string{"{n}", strconv.Itoa(n)}, fill...)...)
}

// Number writes a number with the language's decimal sign.
func (c *Catalogue) Number(x float64, decimals int) string {
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if c == nil || c.decimal == "." {
		return s
	}
	return strings.Replace(s, ".", c.decimal, 1)
}

func (c *Catalogue) look(key, english string) string {
	if c == nil {
		return english
	}
	if text := c.texts[key]; text != "" {
		return text
	}
	return english
}

// Fill puts into a text's places what replaces them; the fill is places and
// what replaces them by turns. What was put in is not looked through again.
func Fill(text string, fill ...string) string {
	if len(fill) < 2 || strings.IndexByte(text, '{') < 0 {
		return text
	}
	var b strings.Builder
	for {
		from := strings.IndexByte(text, '{')
		if from < 0 {
			break
		}
		length := strings.IndexByte(text[from:], '}') + 1
		if length == 0 {
			break
		}
		b.WriteString(text[:from])
		b.WriteString(filled(text[from:from+length], fill))
		text = text[from+length:]
	}
	b.WriteString(text)
	return b.String()
}

func filled(place string, fill []string) string {
	for i := 0; i+1 < len(fill); i += 2 {
		if fill[i] == place {
			return fill[i+1]
		}
	}
	return place
}
