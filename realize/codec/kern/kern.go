// Package kern reads keyboard music in Humdrum **kern, the open text format in
// which many scores have been published: one column (spine) a staff, one line
// a moment.
//
// Columns that split, join, change places, begin and end are followed; notes,
// chords, rests, ties, slurs and phrases, beams, stems, small notes,
// articulations, fermatas, arpeggios, ornaments, keys, metres, clefs, tempos,
// repeats and expansion lists, dynamics, and the reference records for title,
// composer and date are read. What a file says beyond that is named in
// [Result.Warnings].
//
// # Ornaments
//
// The format gives an ornament's interval with its sign: T is a trill to the
// whole tone above, t to the semitone; M and m the short trill, W and w the
// mordent; S a turn after its note, sS one over it, followed by the sizes of
// the steps up and down; $ a turn from below. Where the neighbour differs from
// the key signature, the sign gets the accidental a print shows; where it does
// not, the size of the step stands in [score.TrillSound], so that it is known
// either way. [Options.AsPrinted] reads the signs alone.
//
// A doubled letter (TT) has a wavy line, a tripled one (TTT) goes on with the
// trill of a note before; MM and WW are the long forms.
package kern

import (
	"agremens/realize/codec/told"
	"agremens/realize/score"
)

// Options say how a file is read.
type Options struct {
	// Part is the id of a part ("P1"), or of two joined as right and left hand
	// ("P1+P2"); "" chooses the keyboard's.
	Part string
	// AsPrinted leaves out the intervals that ornament letters state.
	AsPrinted bool
}

// Result is what a file held.
type Result struct {
	Passage *score.Passage
	// Parts lists the parts of the file from the top of the page down.
	Parts []PartInfo
	// Warnings name what was left out or guessed; at most [told.Most].
	Warnings []told.Warning
	// Left counts what does not reach the passage, by column.
	Left []told.Left
}

// PartInfo describes one part of a file.
type PartInfo struct {
	ID, Name string
	Staves   int
	Notes    int
	// Chosen parts are in the passage: one, or the two hands.
	Chosen bool
}

// Limits of what is read; beyond them Decode refuses.
const (
	maxFile     = 20 << 20 // bytes
	maxColumns  = 64
	maxMeasures = 2000
	maxNotes    = 200_000
	maxMarks    = 100_000
	maxMeasure  = 4096 // quarters in a measure
)

// Decode reads the bytes of a .krn file. Its error is an [*Error]; the passage
// passes [score.Passage.Check].
func Decode(data []byte, o Options) (*Result, error) {
	lines, err := split(data)
	if err != nil {
		return nil, err
	}
	r := newReader(o)
	r.scanRecords(lines)
	for i, line := range lines {
		if err := r.line(i+1, line); err != nil {
			return nil, err
		}
		if r.over {
			break
		}
	}
	if err := r.finish(); err != nil {
		return nil, err
	}
	return r.assemble()
}
