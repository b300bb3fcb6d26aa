package codec

import (
	"strings"

	"agremens/realize/codec/told"
	"agremens/realize/score"
	"agremens/realize/words"
)

// NotDrawn is something of a file that its page does not show.
type NotDrawn struct {
	Element string // its name in the file: "harmony", "**text"
	Name    string // the same for people: "chord symbols"
	Count   int
}

// In says it in a line: "chord symbols: 12".
func (n NotDrawn) In(c *words.Catalogue) string {
	return c.Say("{things}: {n}", "{things}", n.Name, "{n}", c.Number(float64(n.Count), 0))
}

// names are what people call the things, by element.
//
//words:texts
var names = map[string]string{
	"hidden-note":        "notes that the file hides; they only sound where it is played",
	"slur":               "slurs without a second note",
	"tie":                "ties without a second note",
	"dynamics":           "dynamics in letters that are not known here",
	"tuplet":             "numbers of tuplets over grace notes",
	"harmony":            "chord symbols",
	"lyric":              "syllables of a text",
	"symbol":             "signs among words that no text font has",
	"bracket":            "brackets over notes",
	"scoop":              "scoops",
	"plop":               "plops",
	"doit":               "doits",
	"falloff":            "falls",
	"glissando":          "glissandi",
	"slide":              "slides from note to note",
	"other-articulation": "signs of one program only",
	"notehead-text":      "letters in note heads",
	"other-direction":    "signs of one program only",
	"other-notation":     "signs of one program only",
	"sostenuto":          "the middle pedal",
	"fermata":            "fermatas over bar lines",
	"wavy-line":          "wavy lines over bar lines",
	"**text":             "syllables of a text",
	"**fing":             "fingerings in a column of their own",
	"**harm":             "chord symbols",
	"**mxhm":             "chord symbols",
	"**root":             "roots of chords",
	"**fb":               "figured bass in a column of its own",
}

// notDrawn joins what a reader left and what the passage has that the page
// does not show, in the order in which they come.
func notDrawn(c *words.Catalogue, p *score.Passage, left []told.Left) []NotDrawn {
	var list []NotDrawn
	add := func(element string, n int) {
		for i := range list {
			if list[i].Element == element {
				list[i].Count += n
				return
			}
		}
		name, known := names[element]
		if known {
			name = c.Say(name)
		} else {
			name = c.Say("“{name}”", "{name}", strings.TrimPrefix(element, "**"))
		}
		list = append(list, NotDrawn{element, name, n})
	}
	for i := range p.Marks {
		switch m := &p.Marks[i]; m.Kind {
		case score.Harmony:
			add("harmony", 1)
		case score.Pedal:
			if m.Text == "sostenuto" {
				add("sostenuto", 1)
			}
		}
	}
	for i := range p.Chords {
		for _, a := range p.Chords[i].Artic {
			switch a {
			case "scoop", "plop", "doit", "falloff", "soft-accent", "unstress", "other-articulation":
				add(string(a), 1)
			}
		}
	}
	for _, l := range left {
		add(l.Name, l.Count)
	}
	return list
}
