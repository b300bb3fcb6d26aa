// Package abc reads and writes keyboard passages in ABC 2.1, the open text
// standard, so that a passage can be typed in half a minute.
//
// One tune is read: its voices on one or two staves (%%score or %%staves,
// else by clef), keys and modes, lengths, broken rhythm, tuplets, ties,
// slurs, chords, grace groups, decorations in short and long form, inline
// fields, repeats and voltas, overlays, dynamics and fingering. A missing
// header is no error: "CDEF|" is a passage.
//
// Where the standard leaves a choice or has no word, this package does so:
//
//   - H: gives the year of composition: its first number of four digits.
//   - Small notes count their length in L, like all others: with L:1/8
//     {g2} is a small quarter.
//   - An accidental with a sign is an annotation that holds nothing else:
//     "^#" above the sign, "_b" below it, "^=", "^##", "_bb".
//   - Decorations named as in MusicXML stand beside the standard's:
//     !delayedturn!, !delayedinvertedturn!, !verticalturn!, !shake!, !haydn!
//     and any SMuFL ornament glyph by its name (!ornamentPrecompDoubleCadence…!).
//   - A lower staff without a clef has a bass clef if it lies below middle C.
package abc

import (
	"cmp"
	"fmt"
	"strconv"

	"agremens/realize/score"
	"agremens/realize/sorting"
	"agremens/realize/words"
)

// Limits of what is read; beyond them Decode refuses.
const (
	maxText     = 1 << 20 // bytes
	maxMeasures = 2000
	maxChords   = 100_000
	maxVoices   = 16
	// A bar longer than this is a mistake, not music.
	maxBarQuarters = 256
	maxTuplet      = 1024
	maxDivision    = 1024 // a length is divided by no more
	// Onsets keep to numerators and denominators that later sums can hold.
	maxFraction = 1 << 30
)

// Error says where a text could not be read, and how to mend it. Lines and
// columns count from 1, columns in characters.
type Error struct {
	Line, Column int
	What, Mend   string

	what, mend words.Message // the same before they were filled
}

// In says where, what and how to mend it in a language.
func (e *Error) In(c *words.Catalogue) (where, what, mend string) {
	where, what, mend = placeIn(c, e.Line, e.Column), c.Say(e.What), c.Say(e.Mend)
	if e.what.Text != "" {
		what, mend = e.what.In(c), e.mend.In(c)
	}
	return where, what, mend
}

func placeIn(c *words.Catalogue, line, column int) string {
	return c.Say("line {line}, column {column}", "{line}", strconv.Itoa(line), "{column}", strconv.Itoa(column))
}

// Error prints "abc: line 3, column 5: what — mend".
func (e *Error) Error() string {
	s := fmt.Sprintf("abc: line %d, column %d: %s", e.Line, e.Column, e.What)
	if e.Mend != "" {
		s += " — " + e.Mend
	}
	return s
}

// Warning names something that was left out or understood only in part.
type Warning struct {
	Line, Column int
	What         string

	what words.Message // the same before it was filled
}

// String prints "line 3, column 5: what".
func (w Warning) String() string { return w.In(nil) }

// In is String in a language.
func (w Warning) In(c *words.Catalogue) string {
	return placeIn(c, w.Line, w.Column) + ": " + w.what.In(c)
}

// Decode reads the first tune of a text. Its error is an [*Error]. The passage
// passes [score.Passage.Check].
func Decode(text string) (*score.Passage, []Warning, error) {
	return decode(text, newParser())
}

// DecodeFile is [Decode] for a file that nobody is editing: what cannot be
// read is named in a warning and costs its field, or the rest of its bar.
func DecodeFile(text string) (*score.Passage, []Warning, error) {
	p := newParser()
	p.lenient = true
	return decode(text, p)
}

func decode(text string, p *parser) (*score.Passage, []Warning, error) {
	if len(text) > maxText {
		return nil, nil, place{1, 1}.fail("the text is longer than {n} bytes", "keep only the bars you work on", "{n}", strconv.Itoa(maxText))
	}
	if err := p.read(text); err != nil {
		return nil, p.warnings, err
	}
	passage, err := p.build()
	if err != nil && p.fault != nil {
		err = p.fault // it left nothing to read
	}
	sorting.Stable(p.warnings, func(a, b Warning) int {
		return cmp.Or(a.Line-b.Line, a.Column-b.Column)
	})
	return passage, p.warnings, err
}
