package kern

import (
	"fmt"

	"agremens/realize/codec/told"
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
		where = told.Place{Line: e.Line, Spine: e.Spine}.In(c)
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

func fail(at told.Place, mend, what string, fill ...string) *Error {
	said := words.Message{Text: what, Fill: fill}
	return &Error{Line: at.Line, Spine: at.Spine, What: said.String(), Mend: mend, what: said}
}
