// Package told holds what the readers of scores say of a file: where in it
// something stands, and what was left out or guessed there.
package told

import (
	"strconv"
	"strings"

	"agremens/realize/words"
)

// Most is how many kinds of warning one file gets.
const Most = 100

// Place is a place in a file: what of it is known, "" and 0 for the rest.
type Place struct {
	Measure, Part string // as printed
	Line, Spine   int    // from 1; a spine is a column of Humdrum
	More          int    // places like this one
}

// In says the place in a language: "bar 12, line 345", "the file" where
// nothing of it is known.
func (p Place) In(c *words.Catalogue) string {
	var parts []string
	if p.Measure != "" {
		parts = append(parts, c.Say("bar {bar}", "{bar}", p.Measure))
	}
	if p.Part != "" {
		parts = append(parts, c.Say("part {name}", "{name}", p.Part))
	}
	if p.Line > 0 {
		parts = append(parts, c.Say("line {line}", "{line}", strconv.Itoa(p.Line)))
	}
	if p.Spine > 0 {
		parts = append(parts, c.Say("spine {n}", "{n}", strconv.Itoa(p.Spine)))
	}
	text := strings.Join(parts, ", ")
	if text == "" {
		text = c.Say("the file")
	}
	if p.More > 0 {
		text += " " + c.Say("and {n} more", "{n}", strconv.Itoa(p.More))
	}
	return text
}

// Warning says what was left out or guessed, and where first.
type Warning struct {
	At   Place
	What words.Message
}

// In is String in a language.
func (w Warning) In(c *words.Catalogue) string { return w.At.In(c) + ": " + w.What.In(c) }

// String prints "bar 12, line 345: …".
func (w Warning) String() string { return w.In(nil) }

// Warnings gather what was left out, each kind once with the number of places,
// at most [Most] kinds.
type Warnings struct {
	list  []Warning
	index map[string]int // by what is said, in English
}

// Add adds a place where something was left out; places in the text are filled
// as [words.Fill] does.
func (w *Warnings) Add(at Place, what string, fill ...string) {
	if w.index == nil {
		w.index = map[string]int{}
	}
	said := words.Message{Text: what, Fill: fill}
	key := said.String()
	if i, seen := w.index[key]; seen {
		w.list[i].At.More++
	} else if len(w.list) < Most {
		w.index[key] = len(w.list)
		w.list = append(w.list, Warning{At: at, What: said})
	}
}

// List returns the warnings in the order in which they came.
func (w *Warnings) List() []Warning { return w.list }
