package glossary

import (
	"slices"
	"strings"
	"unicode"

	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/words"
)

// Way is what some of the traditions make of a sign on a plain C.
type Way struct {
	Traditions []string // their names, in order of time
	Tradition  string   // the key of the first
	Name       string   // in the terms of the trade
	Notes      string   // "D–C–D–C, on the beat"
	Why        string   // in a sentence
}

// Ways reads the sign in every tradition; those that play the same notes at
// the same times stand together. The notes are called by n, the words
// are those of c.
func (e *Entry) Ways(n music.Naming, c *words.Catalogue) []Way {
	var ways []Way
	var seen []string
	for _, t := range realize.TraditionsIn(c) {
		r, err := e.Example(t.Key, n, c)
		if err != nil || len(r.Ornaments) == 0 {
			continue
		}
		o := &r.Ornaments[0]
		taken := &o.Choices[o.Chosen]
		played := inFull(taken)
		if i := slices.Index(seen, played); i >= 0 {
			ways[i].Traditions = append(ways[i].Traditions, t.Name)
			continue
		}
		seen = append(seen, played)
		ways = append(ways, Way{
			Traditions: []string{t.Name}, Tradition: t.Key, Name: taken.Name,
			Notes: desk.NotesInWords(taken) + ", " + desk.PlaceInWords(taken), Why: firstSentence(taken.Reason, c),
		})
	}
	return ways
}

// inFull tells one realization from another.
func inFull(c *realize.Choice) string {
	var b strings.Builder
	for _, n := range c.Notes {
		b.WriteString(n.Pitch.String() + " " + n.Onset.String() + " " + n.Dur.String())
		if n.Tied {
			b.WriteString(" tied")
		}
		b.WriteByte(';')
	}
	return b.String()
}

// firstSentence ends where a full stop follows a small letter: "C.P.E. Bach"
// is no end.
func firstSentence(text string, c *words.Catalogue) string {
	here, _, _ := strings.Cut(c.Say("Here: {facts}."), "{")
	text, _, _ = strings.Cut(text, " "+here) // about the example's own place
	before := ' '
	for i, r := range text {
		if r == '.' && unicode.IsLower(before) && strings.HasPrefix(text[i:], ". ") {
			return text[:i+1]
		}
		before = r
	}
	return text
}
