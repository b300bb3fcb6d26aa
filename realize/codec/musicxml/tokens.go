package musicxml

import (
	"encoding/xml"
	"errors"
	"io"
	"strconv"
	"strings"
)

// source feeds the tokenizer byte by byte and stops it when a single token
// grows beyond maxToken.
type source struct {
	data []byte
	at   int
	stop int
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

// reader walks the elements of a document, checking that they nest.
type reader struct {
	src    *source
	dec    *xml.Decoder
	open   []string
	watch  func(at int) // told every few thousand tokens which byte is reached
	tokens int
	buf    []byte
	// where names the place for messages, in front of the line.
	where func() spot
}

func newReader(text []byte, watch func(at int)) *reader {
	src := &source{data: text}
	dec := xml.NewDecoder(src)
	// The text is UTF-8 already, whatever its declaration says.
	dec.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	return &reader{src: src, dec: dec, watch: watch}
}

// spot is the current place: measure 3, line 120.
func (r *reader) spot() spot {
	var s spot
	if r.where != nil {
		s = r.where()
	}
	s.line, _ = r.dec.InputPos()
	return s
}

func (r *reader) fail(kind error, mend, what string, fill ...string) error {
	return r.spot().fail(kind, mend, what, fill...)
}

// next returns the next start, end or text; comments, processing
// instructions and DOCTYPEs are passed over. It returns io.EOF at the end of
// a well-formed document only.
func (r *reader) next() (xml.Token, error) {
	for {
		r.src.stop = r.src.at + maxToken
		r.tokens++
		if r.watch != nil && r.tokens%2048 == 0 {
			r.watch(r.src.at)
		}
		t, err := r.dec.RawToken()
		if err != nil {
			return nil, r.explain(err)
		}
		switch t := t.(type) {
		case xml.StartElement:
			if len(r.open) >= maxDepth {
				return nil, r.fail(ErrBroken, mendExport, "elements are nested more than {n} deep, deeper than in any score", "{n}", strconv.Itoa(maxDepth))
			}
			r.open = append(r.open, t.Name.Local)
			return t, nil
		case xml.EndElement:
			if len(r.open) == 0 || r.open[len(r.open)-1] != t.Name.Local {
				return nil, r.fail(ErrBroken, mendFetch, "</{text}> has no opening tag", "{text}", clip(t.Name.Local))
			}
			r.open = r.open[:len(r.open)-1]
			return t, nil
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

func (r *reader) explain(err error) error {
	var syntax *xml.SyntaxError
	switch {
	case err == io.EOF && len(r.open) == 0:
		return io.EOF
	case err == io.EOF, errors.As(err, &syntax) && strings.Contains(syntax.Msg, "unexpected EOF"):
		return r.fail(ErrBroken, mendFetch, "the file stops in the middle")
	case errors.Is(err, errToken):
		return r.fail(ErrTooLarge, mendExport, "one piece of markup is longer than {n} kB", "{n}", strconv.Itoa(maxToken>>10))
	case syntax != nil:
		return r.fail(ErrBroken, mendFetch, "the file is damaged here ({text})", "{text}", clip(syntax.Msg))
	}
	return r.fail(ErrBroken, mendFetch, "the file is damaged here ({text})", "{text}", clip(err.Error()))
}

// root returns the document's root element.
func (r *reader) root() (element, error) {
	for {
		t, err := r.next()
		if err == io.EOF {
			return element{}, fileError(ErrNotMusicXML, "choose a .musicxml, .xml or .mxl file", "it contains no score")
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
			if len(r.open) == depth+1 {
				r.buf = append(r.buf, t...)
			}
			if len(r.buf) > maxText {
				return "", r.fail(ErrTooLarge, mendExport, "a text is longer than {n} kB", "{n}", strconv.Itoa(maxText>>10))
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
