package musicxml

import (
	"errors"
	"fmt"

	"agremens/realize/codec/told"
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

	at   told.Place
	what words.Message
}

// In says where, what and how to mend it in a language; where is "" for the
// whole file.
func (e *Error) In(c *words.Catalogue) (where, what, mend string) {
	if e.at != (told.Place{}) {
		where = e.at.In(c)
	}
	return where, e.what.In(c), c.Say(e.Mend)
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
	return fail(told.Place{}, kind, mend, what, fill...)
}

func fail(at told.Place, kind error, mend, what string, fill ...string) *Error {
	said := words.Message{Text: what, Fill: fill}
	return &Error{Where: at.In(nil), What: said.String(), Mend: mend, Kind: kind, at: at, what: said}
}
