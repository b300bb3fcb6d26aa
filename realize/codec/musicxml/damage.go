package musicxml

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"agremens/realize/codec/told"
)

// damage is what a reader does about markup that is broken: it passes over
// the broken tag, closes what the file forgot to close, and goes on.
type damage struct {
	closing int // open elements that end before anything else is read
	lines   int // lines before the place where reading went on
	counted int // bytes whose lines are in lines
	mended  int
	// first is the first damage that was met, nil if none.
	first *Error
	// tell, which may be nil, is told of each.
	tell func(at told.Place, what string, fill ...string)
}

// What is said of broken markup.
//
//words:texts
const (
	damageEnd     = "the file stops in the middle"
	damageHere    = "the file is damaged here ({text})"
	damageUnended = "an end tag is missing before </{text}>"
	damageNoStart = "</{text}> closes nothing and was passed over"
)

// close ends the element that was opened last.
func (r *reader) close() xml.EndElement {
	last := len(r.open) - 1
	name := r.open[last]
	r.open = r.open[:last]
	return xml.EndElement{Name: xml.Name{Local: name}}
}

// end reads an end tag: it closes the nearest open element of that name and
// all inside it. One that closes nothing is passed over.
func (r *reader) end(name string) {
	for i := len(r.open) - 1; i >= 0; i-- {
		if r.open[i] != name {
			continue
		}
		r.closing = len(r.open) - i
		if r.closing > 1 {
			r.broken(damageUnended, "{text}", clip(name))
		}
		return
	}
	r.broken(damageNoStart, "{text}", clip(name))
}

// recover goes on after an error of the tokenizer where that is possible.
// It returns io.EOF at the end of the document.
func (r *reader) recover(err error) error {
	var syntax *xml.SyntaxError
	isSyntax := errors.As(err, &syntax)
	switch {
	case errors.Is(err, errToken):
		return r.fail(ErrTooLarge, mendExport, "one piece of markup is longer than {n} kB", "{n}", strconv.Itoa(maxToken>>10))
	case err == io.EOF && len(r.open) == 0:
		return io.EOF
	case err == io.EOF, isSyntax && strings.Contains(syntax.Msg, "unexpected EOF"):
		return r.stop()
	}
	if r.mended++; r.mended > maxMended {
		return r.stop()
	}
	what := err.Error()
	if isSyntax {
		what = syntax.Msg
	}
	r.broken(damageHere, "{text}", clip(what))
	next := bytes.IndexByte(r.src.data[r.src.at:], '<')
	if next < 0 {
		return r.stop()
	}
	r.src.at += next
	r.lines += bytes.Count(r.src.data[r.counted:r.src.at], []byte{'\n'})
	r.counted = r.src.at
	r.decode()
	return nil
}

// stop ends all that is open: the file holds no more that can be read.
func (r *reader) stop() error {
	if len(r.open) == 0 {
		return io.EOF
	}
	r.broken(damageEnd)
	r.closing = len(r.open)
	r.src.at = len(r.src.data)
	return nil
}

func (r *reader) broken(what string, fill ...string) {
	if r.first == nil {
		r.first = fail(r.spot(), ErrBroken, mendFetch, what, fill...)
	}
	if r.tell != nil {
		r.tell(r.spot(), what, slices.Clone(fill)...)
	}
}

// or returns the damage that was met, else err: a score that seems to hold
// nothing because its file is broken is told to be broken.
func (d *damage) or(err error) error {
	if d.first != nil {
		return d.first
	}
	return err
}
