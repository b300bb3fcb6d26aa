package musicxml

import (
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"

	"agremens/realize/codec/told"
)

// source feeds the tokenizer byte by byte and stops it when a single tag
// grows beyond maxToken.
type source struct {
	data []byte
	at   int
	stop int
}

// allow sets where the next token must end. Comments and text may be as long
// as the file: they cost no more than their bytes.
func (s *source) allow() {
	from := s.at
	if from > 0 && s.data[from-1] == '<' {
		from-- // the tokenizer has looked at it already
	}
	rest := s.data[from:]
	s.stop = len(s.data)
	if len(rest) > 1 && rest[0] == '<' && rest[1] != '!' && rest[1] != '?' {
		s.stop = s.at + maxToken
	}
}

var errToken = errors.New("a piece of markup without end")

func (s *source) ReadByte() (byte, error) {
	if s.at >= len(s.data) {
		return 0, io.EOF
	}
	if s.at >= s.stop {
		return 0, errToken
	}
	b := s.data[s.at]
	s.at++
	return b, nil
}

// Read makes source an io.Reader, as the tokenizer's constructor asks; it
// reads through ReadByte.
func (s *source) Read(p []byte) (int, error) {
	if len(p) == 0 {
		return 0, nil
	}
	b, err := s.ReadByte()
	if err != nil {
		return 0, err
	}
	p[0] = b
	return 1, nil
}

// element is the start of an XML element.
type element struct {
	name  string
	attrs []xml.Attr
}

// attr returns an attribute's value, "" where absent.
func (e element) attr(name string) string {
	for i := range e.attrs {
		if e.attrs[i].Name.Local == name {
			return e.attrs[i].Value
		}
	}
	return ""
}

// reader walks the elements of a document. It mends what is damaged in the
// markup, so that a single lost byte does not cost the piece: see damage.go.
type reader struct {
	src    *source
	dec    *xml.Decoder
	open   []string
	watch  func(at int) // told every few thousand tokens which byte is reached
	tokens int
	buf    []byte
	// where names the place for messages, in front of the line.
	where func() told.Place
	damage
}

func newReader(text []byte, watch func(at int)) *reader {
	r := &reader{src: &source{data: text}, watch: watch}
	r.decode()
	return r
}

// decode begins to read markup at the source's place.
func (r *reader) decode() {
	r.dec = xml.NewDecoder(r.src)
	r.dec.Strict = false // a bare & is text
	// The text is UTF-8 already, whatever its declaration says.
	r.dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
}

// spot is the current place: measure 3, line 120.
func (r *reader) spot() told.Place {
	var s told.Place
	if r.where != nil {
		s = r.where()
	}
	s.Line, _ = r.dec.InputPos()
	s.Line += r.lines
	return s
}

func (r *reader) fail(kind error, mend, what string, fill ...string) error {
	return fail(r.spot(), kind, mend, what, fill...)
}

// next returns the next start, end or text; comments, processing
// instructions and DOCTYPEs are passed over. Every start has its end, also
// where the file lacks it; io.EOF comes after the last.
func (r *reader) next() (xml.Token, error) {
	for {
		if r.closing > 0 {
			r.closing--
			return r.close(), nil
		}
		r.src.allow()
		r.tokens++
		if r.watch != nil && r.tokens%2048 == 0 {
			r.watch(r.src.at)
		}
		t, err := r.dec.RawToken()
		if err != nil {
			if err := r.recover(err); err != nil {
				return nil, err
			}
			continue
		}
		switch t := t.(type) {
		case xml.StartElement:
			if len(r.open) >= maxDepth {
				return nil, r.fail(ErrBroken, mendExport, "elements are nested more than {n} deep, deeper than in any score", "{n}", strconv.Itoa(maxDepth))
			}
			r.open = append(r.open, t.Name.Local)
			return t, nil
		case xml.EndElement:
			r.end(t.Name.Local)
		case xml.CharData:
			return t, nil
		case xml.Directive:
			// A DOCTYPE without an internal subset says nothing we need.
			if strings.Contains(string(t), "<!ENTITY") {
				return nil, r.fail(ErrUnsupported, mendExport, "the file defines abbreviations of its own (entities), which a score does not need and we do not expand")
			}
		}
	}
}

// root returns the document's root element.
func (r *reader) root() (element, error) {
	for {
		t, err := r.next()
		if err == io.EOF {
			return element{}, fileError(ErrNotMusicXML, "choose a .musicxml, .xml or .mxl file", "this file contains no score")
		}
		if err != nil {
			return element{}, err
		}
		switch t := t.(type) {
		case xml.StartElement:
			return element{t.Name.Local, t.Attr}, nil
		case xml.CharData:
			if strings.TrimSpace(string(t)) != "" {
				return element{}, fileError(ErrNotMusicXML, "choose a .musicxml, .xml or .mxl file", "this is not MusicXML")
			}
		}
	}
}

// each calls child for every child of the element that was opened last, and
// returns when that element ends. What child leaves unread is passed over.
func (r *reader) each(child func(element) error) error {
	depth := len(r.open)
	for {
		t, err := r.next()
		if err != nil {
			return noEOF(err)
		}
		switch t := t.(type) {
		case xml.StartElement:
			if err := child(element{t.Name.Local, t.Attr}); err != nil {
				return err
			}
			if err := r.leave(depth); err != nil {
				return err
			}
		case xml.EndElement:
			return nil
		}
	}
}

// leave reads on until only depth elements are open.
func (r *reader) leave(depth int) error {
	for len(r.open) > depth {
		if _, err := r.next(); err != nil {
			return noEOF(err)
		}
	}
	return nil
}

// text returns the trimmed text of the element that was opened last, and
// reads past its end.
func (r *reader) text() (string, error) {
	depth := len(r.open) - 1
	r.buf = r.buf[:0]
	for {
		t, err := r.next()
		if err != nil {
			return "", noEOF(err)
		}
		switch t := t.(type) {
		case xml.CharData:
			if len(r.open) == depth+1 && len(r.buf) < maxText {
				r.buf = append(r.buf, t[:min(len(t), maxText-len(r.buf))]...)
			}
		case xml.EndElement:
			if len(r.open) == depth {
				return strings.TrimSpace(string(r.buf)), nil
			}
		}
	}
}

func noEOF(err error) error {
	if err == io.EOF {
		return io.ErrUnexpectedEOF
	}
	return err
}
