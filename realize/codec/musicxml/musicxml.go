// Package musicxml reads and writes MusicXML 4.0: partwise and timewise
// scores, plain or in a compressed container.
//
// [Decode] takes the bytes of any such file and yields one keyboard part as a
// [score.Passage] of what sounds: transposing parts are brought to concert
// pitch. It never fetches anything, expands no entities, and refuses what is
// too large before it costs memory (see limits.go). What it leaves out without
// harm it names in [Result.Warnings]; what it cannot read at all is an
// [*Error] that says where, what, and how to mend it.
//
// # Written-out ornaments
//
// Some files carry, beside an ornament sign, the notes its transcriber wanted
// the notation program to play for it: invisible (print-object="no"),
// usually as cue notes in a voice of their own. They are not part of the
// printed music. Decode leaves them out, keeps the signs that were attached
// to them on the printed note they belong to, and turns the printed small
// notes at the end of such a run into what a reader takes them for: small
// notes that close the ornament. Invisible notes that only carry on a tie, or
// that share a head with another voice, stay, marked Hidden.
package musicxml

import (
	"agremens/realize/codec/told"
	"agremens/realize/score"
)

// Result is what a file held.
type Result struct {
	Passage *score.Passage
	// Parts lists the parts of the file in its order.
	Parts []PartInfo
	// Warnings name what was left out or guessed; at most [maxWarnings].
	Warnings []told.Warning
	// Left counts what does not reach the passage, by element.
	Left []told.Left
}

// PartInfo describes one part of a file.
type PartInfo struct {
	ID, Name string
	Staves   int
	Notes    int // notes with a pitch
	// Chosen parts are in the passage: one, or the two hands where a file
	// has a part for each.
	Chosen bool
}

// Decode reads the bytes of a .musicxml, .xml or .mxl file and returns its
// keyboard part. yield, which may be nil, is called every few thousand tokens
// so that a single-threaded caller can do other things.
//
// The error is an [*Error].
func Decode(data []byte, yield func()) (*Result, error) {
	return DecodePart(data, "", yield)
}

// Watch is told every few thousand tokens how much of the work is done, from
// 0 to 1; it may take its time.
type Watch func(done float64)

// DecodePart is [Decode] for the part with the given id ("P2"), or two
// one-staff parts joined as right and left hand ("P1+P2"). An empty part
// chooses the keyboard part: one with two staves, else two one-staff parts
// that look like right and left hand, else the first with notes.
func DecodePart(data []byte, part string, yield func()) (*Result, error) {
	if yield == nil {
		return DecodeWatched(data, part, nil)
	}
	return DecodeWatched(data, part, func(float64) { yield() })
}

// DecodeWatched is [DecodePart] that says how far it is.
func DecodeWatched(data []byte, part string, watch Watch) (*Result, error) {
	d := &decoder{watch: watch}
	text, err := d.open(data)
	if err != nil {
		return nil, err
	}
	if err := d.scan(text); err != nil {
		return nil, err
	}
	chosen, err := d.choose(part)
	if err != nil {
		return nil, err
	}
	if err := d.read(text, chosen); err != nil {
		return nil, err
	}
	passage, err := d.assemble(chosen)
	if err != nil {
		return nil, err
	}
	r := &Result{Passage: passage, Warnings: d.warnings.List(), Left: d.left.List()}
	for _, p := range d.stats {
		r.Parts = append(r.Parts, p.PartInfo)
	}
	return r, nil
}
