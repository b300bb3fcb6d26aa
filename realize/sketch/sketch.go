// Package sketch makes an ordinary two-bar passage of one place in a piece on
// paper: the note and its sign, what is around it and what moves beneath.
// These are all that a realization asks for, so nobody has to type a score.
package sketch

import (
	"fmt"

	"agremens/realize/codec/abc"
	"agremens/realize/music"
	"agremens/realize/score"
)

// Place is one place in a piece. Only Note and Value must be given.
type Place struct {
	Key   music.Key
	Metre music.Metre // the zero value is 4/4
	Tempo float64     // quarters a minute, 0 where unknown
	Year  int         // 0 where unknown

	Note  music.Pitch
	Value score.Value // with its dots
	// Tied is a second value tied to the first; the zero value is no tie.
	Tied score.Value

	Before, After *music.Pitch // neighbours in the voice, nil where there is none
	// SlurBefore and SlurAfter join the note to its neighbours.
	SlurBefore, SlurAfter bool

	Sign score.SignKind // "" for small notes alone
	// Accidental stands with the sign, in MusicXML words; Below puts it under it.
	Accidental string
	Below      bool
	// Small are the small notes before the note, all of one value, with a
	// stroke or without.
	Small      []music.Pitch
	SmallValue score.ValueType // an eighth where it is not given
	Slash      bool

	Beneath Rhythm
	Bass    *music.Pitch // nil lets the key choose
}

// Rhythm is what moves beneath the note.
type Rhythm int8

// Rhythms, from slow to fast.
const (
	Held Rhythm = iota
	Halves
	Quarters
	Eighths
	Triplets
	Sixteenths
)

// Rhythms returns all of them with their names, for a menu.
func Rhythms() []RhythmInfo { return rhythms[:] }

//words:texts
var rhythms = [...]RhythmInfo{
	{Held, "held"}, {Halves, "halves"}, {Quarters, "quarters"},
	{Eighths, "eighths"}, {Triplets, "triplets"}, {Sixteenths, "sixteenths"},
}

// RhythmInfo is a rhythm and its name.
type RhythmInfo struct {
	Rhythm Rhythm
	Name   string
}

// Passage makes the two bars. The note starts its bar: the second one, after
// the note before it, or the first one if it leaves no room there for the note
// after it; the note before is then an upbeat. The note after lasts to the
// next beat. The bass repeats one note in the rhythm beneath, in octaves where
// it moves faster than the beat, so that no harmony is invented.
//
// It also returns the id of the note. Its error says what to change.
func (p Place) Passage() (*score.Passage, score.ID, error) {
	plan, err := p.plan()
	if err != nil {
		return nil, "", err
	}
	passage, warnings, err := abc.Decode(plan.text())
	if err != nil {
		return nil, "", fmt.Errorf("sketch: %w", err)
	}
	if len(warnings) > 0 {
		return nil, "", fmt.Errorf("sketch: %s", warnings[0].What)
	}
	id, err := plan.find(passage)
	if err != nil {
		return nil, "", err
	}
	if len(p.Small) > 0 {
		value := p.SmallValue
		if value == score.Unspecified {
			value = score.Eighth
		}
		if passage, err = passage.WithSmallNotes(id, p.Small, value, p.Slash); err != nil {
			return nil, "", err
		}
	}
	if p.Sign != "" {
		if passage, err = passage.WithSign(id, score.Sign{Kind: p.Sign}); err != nil {
			return nil, "", err
		}
		if p.Accidental != "" {
			if passage, err = passage.WithSignAccidental(id, p.Accidental, p.Below); err != nil {
				return nil, "", err
			}
		}
	}
	return passage, id, passage.Check()
}

// bass returns the note beneath: the one given, else the key note, the fifth
// or the fourth degree, whichever's triad holds the note; from two octaves to
// a fifth below it.
func (p Place) bass() music.Pitch {
	if p.Bass != nil {
		return *p.Bass
	}
	root := map[int]int{1: 0, 3: 0, 5: 0, 2: 4, 7: 4, 4: 3, 6: 3}[p.Key.Degree(p.Note.Step)]
	tonic, _ := p.Key.Tonic()
	bass := music.Pitch{Step: tonic, Octave: p.Note.Octave}
	bass = bass.Neighbour(root, p.Key)
	for bass.MIDI() > p.Note.MIDI()-12 || bass.MIDI() > 57 {
		bass.Octave--
	}
	return bass
}
