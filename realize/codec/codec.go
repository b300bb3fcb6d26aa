// Package codec opens a score in any format the program reads, and says in
// plain words what was wrong with one it cannot.
package codec

import (
	"errors"
	"strings"
	"unicode/utf8"

	"agremens/realize/codec/abc"
	"agremens/realize/codec/charset"
	"agremens/realize/codec/kern"
	"agremens/realize/codec/musicxml"
	"agremens/realize/codec/told"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Score is an opened file.
type Score struct {
	Passage *score.Passage
	// Warnings name, in words, what was left unread.
	Warnings []string
	// NotDrawn counts what stands in the file and not on its page.
	NotDrawn []NotDrawn
	// Parts are those of a file that has several to choose from.
	Parts []Part
}

// OpenAsPrinted is [Open] for the keyboard part that leaves out what a file
// states of ornaments beside their signs: the intervals of Humdrum's letters.
// MusicXML and ABC state none.
func OpenAsPrinted(data []byte) (*Score, error) {
	if !kern.LooksLike(data) {
		return Open(data, "", nil)
	}
	return openKern(nil, data, kern.Options{AsPrinted: true})
}

// Decode is [Open] where the keyboard part is wanted and nothing else of the
// file. yield may be nil; see [musicxml.Decode].
func Decode(data []byte, yield func()) (p *score.Passage, warnings []string, err error) {
	var watch func(float64)
	if yield != nil {
		watch = func(float64) { yield() }
	}
	s, err := Open(data, "", watch)
	if err != nil {
		return nil, nil, err
	}
	return s.Passage, s.Warnings, nil
}

// Open reads MusicXML, packed or not, ABC and Humdrum **kern; it tells them
// apart by their contents, since names are often wrong. Of a file with several
// parts it reads the one with the given id, two joined as hands by "+", "" for
// the one that looks like the keyboard's. watch,
// which may be nil, is told how much of the work is done, from 0 to 1.
func Open(data []byte, part string, watch func(done float64)) (*Score, error) {
	return OpenIn(nil, data, part, watch)
}

// OpenIn is [Open] that warns in a language.
func OpenIn(c *words.Catalogue, data []byte, part string, watch func(done float64)) (*Score, error) {
	if text := charset.Text(data[:min(len(data), maxABC)]); looksLikeABC(text) {
		p, ws, err := abc.DecodeFile(text)
		if err != nil {
			return nil, err
		}
		return opened(c, p, ws, nil), nil
	}
	if kern.LooksLike(data) {
		return openKern(c, data, kern.Options{Part: part})
	}
	r, err := musicxml.DecodeWatched(data, part, watch)
	if err != nil {
		return nil, err
	}
	s := opened(c, r.Passage, r.Warnings, r.Left)
	for _, p := range r.Parts {
		s.offer(Part{p.ID, p.Name, p.Staves, p.Chosen}, len(r.Parts), p.Notes)
	}
	return s, nil
}

func openKern(c *words.Catalogue, data []byte, o kern.Options) (*Score, error) {
	r, err := kern.Decode(data, o)
	if err != nil {
		return nil, err
	}
	s := opened(c, r.Passage, r.Warnings, r.Left)
	for _, p := range r.Parts {
		s.offer(Part{p.ID, p.Name, p.Staves, p.Chosen}, len(r.Parts), p.Notes)
	}
	return s, nil
}

// opened is a score with its warnings in a language.
func opened[W interface {
	In(c *words.Catalogue) string
}](c *words.Catalogue, p *score.Passage, warnings []W, left []told.Left) *Score {
	s := &Score{Passage: p, NotDrawn: notDrawn(c, p, left)}
	for _, w := range warnings {
		s.Warnings = append(s.Warnings, w.In(c))
	}
	return s
}

// offer adds one of a file's parts to choose from: of several those with notes.
func (s *Score) offer(p Part, parts, notes int) {
	if parts > 1 && notes > 0 {
		s.Parts = append(s.Parts, p)
	}
}

// Words puts an error of [Decode] into sentences for a reader who knows music
// but no file formats: what is wrong, where, and what to do.
func Words(err error) string { return WordsIn(nil, err) }

// WordsIn is [Words] in a language.
func WordsIn(c *words.Catalogue, err error) string {
	var told interface {
		error
		In(c *words.Catalogue) (where, what, mend string)
	}
	if !errors.As(err, &told) {
		return c.Tell(err)
	}
	where, what, mend := told.In(c)
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
	_, size := utf8.DecodeRuneInString(text)
	return " " + strings.ToUpper(text[:size]) + strings.TrimSuffix(text[size:], ".") + "."
}

// maxABC is one byte more than ABC may have.
const maxABC = 1<<20 + 1

// looksLikeABC reports whether a text is ABC: near its beginning stands a
// tune's number (X:), or it begins, after comments, with two of the fields
// that the standard defines. A key (K:) may be missing.
func looksLikeABC(text string) bool {
	text = strings.TrimLeft(text[:min(len(text), 4096)], "\ufeff \t\r\n")
	if strings.HasPrefix(text, "<") || strings.HasPrefix(text, "PK") || strings.HasPrefix(text, "!!") || strings.HasPrefix(text, "**") {
		return false
	}
	fields, other := 0, false
	for line := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		switch {
		case strings.HasPrefix(line, "%"):
		case len(line) > 1 && line[1] == ':' && strings.IndexByte("ABCDFGHIKLMmNOPQRSTUVWwXZ", line[0]) >= 0:
			if line[0] == 'X' || line[0] == 'K' && !other {
				return true
			}
			if fields++; fields == 2 && !other {
				return true
			}
		default:
			other = true
		}
	}
	return false
}
