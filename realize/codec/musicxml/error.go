package musicxml

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"agremens/realize/words"
)

// Kinds of failure, for [errors.Is].
var (
	// ErrNotMusicXML: the bytes are something else.
	ErrNotMusicXML = errors.New("not a MusicXML score")
	// ErrBroken: MusicXML, but damaged or contradicting itself.
	ErrBroken = errors.New("broken MusicXML")
	// ErrTooLarge: beyond the limits this program keeps.
	ErrTooLarge = errors.New("score too large")
	// ErrUnsupported: correct, but nothing this program reads.
	ErrUnsupported = errors.New("unsupported MusicXML")
)

// Error says where a file failed, what is wrong there and how to mend it, in
// words for a reader who knows music but no file formats.
type Error struct {
	Where string // "line 12", "bar 3, line 120", "the file"
	What  string
	Mend  string
	// Kind is one of the sentinels of this package.
	Kind error

	at   spot
	what words.Message
}

// In says where, what and how to mend it in a language; where is "" for the
// whole file.
func (e *Error) In(c *words.Catalogue) (where, what, mend string) {
	if e.at != (spot{}) {
		where = e.at.in(c)
	}
	return where, e.what.In(c), c.Say(e.Mend)
}

// spot is a place in a file: what of it is known.
type spot struct {
	measure, part string
	line          int
	more          int // places like this one
}

func (s spot) in(c *words.Catalogue) string {
	var parts []string
	if s.measure != "" {
		parts = append(parts, c.Say("bar {bar}", "{bar}", s.measure))
	}
	if s.part != "" {
		parts = append(parts, c.Say("part {name}", "{name}", s.part))
	}
	if s.line > 0 {
		parts = append(parts, c.Say("line {line}", "{line}", strconv.Itoa(s.line)))
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

// Error prints "musicxml: line 12: what is wrong — how to mend it".
func (e *Error) Error() string {
	return fmt.Sprintf("musicxml: %s: %s — %s", e.Where, e.What, e.Mend)
}

// Unwrap returns the kind.
func (e *Error) Unwrap() error { return e.Kind }

// What to do, for the usual cases.
//
//words:texts
const (
	mendExport = "export the piece again as MusicXML from your notation program, and open that file"
	mendFetch  = "download the file again, or export it again from your notation program"
	mendSplit  = "save a shorter part of the piece (one movement, or the bars you practise) and open that"
)

func fileError(kind error, mend, what string, fill ...string) *Error {
	return spot{}.fail(kind, mend, what, fill...)
}

func (s spot) fail(kind error, mend, what string, fill ...string) *Error {
	said := words.Message{Text: what, Fill: fill}
	return &Error{Where: s.in(nil), What: said.String(), Mend: mend, Kind: kind, at: s, what: said}
}
