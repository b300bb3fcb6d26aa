package musicxml

import (
	"errors"
	"fmt"
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
	Where string // "line 12", "measure 3, line 120", "the file"
	What  string
	Mend  string
	// Kind is one of the sentinels of this package.
	Kind error
}

// Error prints "musicxml: line 12: what is wrong — how to mend it".
func (e *Error) Error() string {
	return fmt.Sprintf("musicxml: %s: %s — %s", e.Where, e.What, e.Mend)
}

// Unwrap returns the kind.
func (e *Error) Unwrap() error { return e.Kind }

// What to do, for the usual cases.
const (
	mendExport = "export the piece again as MusicXML from your notation program, and open that file"
	mendFetch  = "download the file again, or export it again from your notation program"
	mendSplit  = "save a shorter part of the piece (one movement, or the bars you practise) and open that"
)

func fileError(kind error, mend, what string, args ...any) *Error {
	return &Error{Where: "the file", What: fmt.Sprintf(what, args...), Mend: mend, Kind: kind}
}
