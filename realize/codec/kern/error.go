package kern

import (
	"fmt"
	"strconv"
	"strings"

	"agremens/realize/words"
)

// Error says where a file could not be read, and how to mend it.
type Error struct {
	Line, Spine int // from 1; 0 where the whole file or line is meant
	What, Mend  string

	what words.Message
}

// In says where, what and how to mend it in a language.
func (e *Error) In(c *words.Catalogue) (where, what, mend string) {
	if e.Line > 0 {
		where = spot{line: e.Line, spine: e.Spine}.in(c)
	}
	return where, e.what.In(c), c.Say(e.Mend)
}

// Error prints "kern: line 12, spine 2: what — mend".
func (e *Error) Error() string {
	where, what, mend := e.In(nil)
	if where == "" {
		where = "the file"
	}
	return fmt.Sprintf("kern: %s: %s — %s", where, what, mend)
}

// What to do, for the usual cases.
//
//words:texts
const (
	mendFetch = "download the file again"
	mendSplit = "save a shorter part of the piece and open that"
	mendLine  = "mend this line in a text editor, or download the file again"
)

// spot is a place in a file: what of it is known.
type spot struct {
	measure     string
	line, spine int
	more        int // places like this one
}

func (s spot) fail(mend, what string, fill ...string) *Error {
	said := words.Message{Text: what, Fill: fill}
	return &Error{Line: s.line, Spine: s.spine, What: said.String(), Mend: mend, what: said}
}

func (s spot) in(c *words.Catalogue) string {
	var parts []string
	if s.measure != "" {
		parts = append(parts, c.Say("bar {bar}", "{bar}", s.measure))
	}
	if s.line > 0 {
		parts = append(parts, c.Say("line {line}", "{line}", strconv.Itoa(s.line)))
	}
	if s.spine > 0 {
		parts = append(parts, c.Say("spine {n}", "{n}", strconv.Itoa(s.spine)))
	}
	text := strings.Join(parts, ", ")
	if text == "" {
		text = c.Say("the file")
	}
	if s.more > 0 {
		text += " " + c.Say("and {n} more", "{n}", strconv.Itoa(s.more))
	}
	return text
}

// Warning says what was left out or guessed, and where first.
type Warning struct {
	at   spot
	what words.Message
}

// Line is the line the warning is about, 0 where it is about the file.
func (w Warning) Line() int { return w.at.line }

// In is String in a language.
func (w Warning) In(c *words.Catalogue) string { return w.at.in(c) + ": " + w.what.In(c) }

// String prints "measure 12, line 345, spine 2: …".
func (w Warning) String() string { return w.In(nil) }

// warnings gathers what was left out, each kind once with the number of
// places.
type warnings struct {
	list  []Warning
	index map[string]int
}

func (w *warnings) add(at spot, what string, fill ...string) {
	if w.index == nil {
		w.index = map[string]int{}
	}
	said := words.Message{Text: what, Fill: fill}
	key := said.String()
	if i, seen := w.index[key]; seen {
		w.list[i].at.more++
		return
	}
	if len(w.list) < maxWarnings {
		w.index[key] = len(w.list)
		w.list = append(w.list, Warning{at: at, what: said})
	}
}
