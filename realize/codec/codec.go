// Package codec opens a score in any format the program reads, and says in
// plain words what was wrong with one it cannot.
package codec

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"agremens/realize/codec/abc"
	"agremens/realize/codec/musicxml"
	"agremens/realize/score"
)

// Decode reads MusicXML, packed or not, and ABC; it tells them apart by their
// contents, since names are often wrong. Warnings name, in words, what was
// left unread. yield may be nil; see [musicxml.Decode].
func Decode(data []byte, yield func()) (p *score.Passage, warnings []string, err error) {
	if yield == nil {
		return DecodeWatched(data, nil)
	}
	return DecodeWatched(data, func(float64) { yield() })
}

// DecodeWatched is [Decode] that says how much of the work is done, from 0 to
// 1; watch may be nil.
func DecodeWatched(data []byte, watch func(done float64)) (p *score.Passage, warnings []string, err error) {
	if looksLikeABC(data) {
		p, ws, err := abc.Decode(string(data))
		for _, w := range ws {
			warnings = append(warnings, w.String())
		}
		return p, warnings, err
	}
	r, err := musicxml.DecodeWatched(data, "", watch)
	if err != nil {
		return nil, nil, err
	}
	for _, w := range r.Warnings {
		warnings = append(warnings, w.Where+": "+w.What)
	}
	return r.Passage, warnings, nil
}

// Words puts an error of [Decode] into sentences for a reader who knows music
// but no file formats: what is wrong, where, and what to do.
func Words(err error) string {
	var where, what, mend string
	var x *musicxml.Error
	var a *abc.Error
	switch {
	case errors.As(err, &x):
		what, mend = x.What, x.Mend
		if x.Where != "the file" {
			where = x.Where
		}
	case errors.As(err, &a):
		where, what, mend = fmt.Sprintf("line %d, column %d", a.Line, a.Column), a.What, a.Mend
	default:
		return err.Error()
	}
	if where != "" {
		what = where + ": " + what
	}
	return sentence(what) + sentence(mend)
}

// sentence begins text with a capital and ends it with a full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return " " + strings.ToUpper(text[:1]) + strings.TrimSuffix(text[1:], ".") + "."
}

// looksLikeABC reports whether data begins as ABC text does, with a field or
// a comment, and holds a key field early on.
func looksLikeABC(data []byte) bool {
	if bytes.HasPrefix(data, []byte("PK")) {
		return false
	}
	text := strings.TrimLeft(string(data[:min(len(data), 4096)]), "\ufeff \t\r\n")
	if len(text) < 2 {
		return false
	}
	field := text[1] == ':' && text[0] >= 'A' && text[0] <= 'Z'
	return (field || text[0] == '%') && (strings.HasPrefix(text, "K:") || strings.Contains(text, "\nK:"))
}
