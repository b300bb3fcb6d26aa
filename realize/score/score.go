// Package score holds the notated passage: what is written, not what sounds.
//
// A [Passage] is flat: slices of measures, chords and marks that refer to each
// other by index or by [ID]. All times are exact fractions of a quarter note,
// counted from the start of the passage as written (repeats not unfolded).
// A Passage is a value to read; whoever changes one works on a [Passage.Clone].
package score

import "agremens/realize/music"

// ID names a note within its passage: the MusicXML id where the file has one,
// else one made by the decoder. IDs are unique in a passage.
type ID string

// Passage is a piece of notated keyboard music.
type Passage struct {
	Title    string
	Composer string
	// Year is the year of composition as far as the score or the user says; 0 if unknown.
	Year int
	// Part is the id of the part in the file it came from ("P1").
	Part   string
	Staves int // 1 or 2 for keyboard music; staff 1 is the upper
	// Measures are in written order; Chords are sorted by onset, then by
	// staff, then voice, with grace chords before the chord they lean on.
	Measures []Measure
	Chords   []Chord
	Clefs    []Clef
	Slurs    []Slur
	Tuplets  []Tuplet
	Tempos   []Tempo
	Marks    []Mark
}

// Measure is one measure across all staves.
type Measure struct {
	Number string      // as printed; "0" or "X1" where implicit
	Onset  music.Frac  // of its first beat
	Length music.Frac  // what it really holds, in quarters; may differ from Metre
	Key    music.Key   // in force at its start
	Metre  music.Metre // in force at its start
	// Implicit measures (pickups, second halves of split bars) are not counted.
	Implicit    bool
	RepeatStart bool
	RepeatEnd   bool
	Times       int    // how often a repeated section is played; 0 means twice
	Endings     []int  // numbers of the volta bracket over this measure
	EndingStop  bool   // the bracket ends with this measure
	EndingOpen  bool   // it ends without its closing hook
	Barline     string // right barline in MusicXML words: "" regular, "light-light", "light-heavy" …
	// NewSystem says that the file starts a new line here.
	NewSystem bool
	// Jumps hold "segno", "coda", "dacapo", "dalsegno", "tocoda", "fine".
	Jumps []string
	// KeyChanges lie inside the measure, after its start.
	KeyChanges []KeyChange
}

// End returns the onset of the measure after m.
func (m Measure) End() music.Frac { return m.Onset.Add(m.Length) }

// KeyChange is a change of signature inside a measure.
type KeyChange struct {
	Onset music.Frac
	Key   music.Key
}

// Chord is one stem's worth of notes struck together, or a rest.
type Chord struct {
	Measure int        // index into Passage.Measures
	Onset   music.Frac // written onset; a grace chord has that of the chord it leans on
	Dur     music.Frac // written length in quarters; 0 for a grace chord
	Value   Value
	Staff   int    // the staff it is written on (the first note's where a chord spans both)
	Voice   string // unique across the part's staves
	// Notes are sorted from low to high; none means a rest.
	Notes    []Note
	Grace    *Grace // nil for an ordinary chord
	Cue      bool
	Stem     Stem
	Beams    []Beam // one for each level, outermost first
	Signs    []Sign
	Artic    []Articulation
	Fermata  bool
	Arpeggio Arpeggio
	// ArpeggioDirected says that a direction is printed.
	ArpeggioDirected bool
	// Hidden chords (print-object="no") sound but are not engraved.
	Hidden bool
	// RestPos is the staff position of a rest as a pitch where the file fixes it.
	RestPos *music.Pitch
	// WholeRest marks a rest that fills its measure whatever the metre.
	WholeRest bool
	// SlurBegins and SlurEnds say that the file begins or ends a slur here and
	// lacks its other end: nothing is drawn, but an ornament may depend on it.
	SlurBegins, SlurEnds bool
}

// Arpeggio is the line left of a chord; "" is none.
type Arpeggio string

// Lines left of a chord: wavy, from the lowest note up (also where no direction
// is printed) or from the highest down, or a bracket that asks for all at once.
const (
	ArpeggioUp      Arpeggio = "up"
	ArpeggioDown    Arpeggio = "down"
	ArpeggioBracket Arpeggio = "bracket"
)

// Rolled reports whether the notes sound one after the other.
func (a Arpeggio) Rolled() bool { return a == ArpeggioUp || a == ArpeggioDown }

// IsRest reports whether c is a rest.
func (c *Chord) IsRest() bool { return len(c.Notes) == 0 }

// End returns the written end of c.
func (c *Chord) End() music.Frac { return c.Onset.Add(c.Dur) }

// Top returns the highest note. It panics on a rest.
func (c *Chord) Top() *Note { return &c.Notes[len(c.Notes)-1] }

// Bottom returns the lowest note. It panics on a rest.
func (c *Chord) Bottom() *Note { return &c.Notes[0] }

// Note is one head of a chord.
type Note struct {
	ID    ID
	Pitch music.Pitch
	// Accidental is the printed accidental in MusicXML words ("sharp",
	// "natural", "flat-flat" …), "" where none is printed.
	Accidental  string
	Parentheses bool // around the accidental
	Staff       int  // differs from the chord's on cross-staff notes
	TieStart    bool
	TieStop     bool
	Fingering   string
	Head        string // notehead in MusicXML words; "" normal
}

// Value is a written note value.
type Value struct {
	// Type is the value without dots, as a power of two of the quarter:
	// 4 breve … see the constants.
	Type ValueType
	Dots int
	// Actual notes stand in the time of Normal (3 in the time of 2); 0, 0 outside tuplets.
	Actual, Normal int
}

// ValueType is a written note value without dots.
type ValueType int8

// Note values. Unspecified stands for what the file left out.
const (
	Unspecified ValueType = iota
	Long
	Breve
	Whole
	Half
	Quarter
	Eighth
	N16th
	N32nd
	N64th
	N128th
	N256th
)

// Quarters returns the length of a value in quarter notes, dots and tuplet
// ratio included; 0 for an unspecified one.
func (v Value) Quarters() music.Frac {
	if v.Type == Unspecified {
		return music.Frac{}
	}
	d := music.Int(16)
	for t := Long; t < v.Type; t++ {
		d = d.Mul(music.F(1, 2))
	}
	add := d
	for range v.Dots {
		add = add.Mul(music.F(1, 2))
		d = d.Add(add)
	}
	if v.Actual > 0 && v.Normal > 0 {
		d = d.Mul(music.F(int64(v.Normal), int64(v.Actual)))
	}
	return d
}

// Flags returns how many beams or flags a value carries.
func (v Value) Flags() int { return max(0, int(v.Type)-int(Quarter)) }

// Grace marks a small note (or small chord) and what the file says of it.
type Grace struct {
	Slash bool
	// After says that no ordinary chord follows in the measure's voice: the
	// small notes close the chord before them. Their Onset is that chord's end.
	After bool
	// StealPrevious and StealFollowing are percentages, 0 where not given.
	StealPrevious, StealFollowing float64
	// MakeTime is in quarters, 0 where not given.
	MakeTime music.Frac
}

// Stem is a stem's direction; Auto leaves it to the engraver.
type Stem int8

// Stem directions.
const (
	StemAuto Stem = iota
	StemUp
	StemDown
	StemNone
)

// Beam is the state of one beam level at one chord.
type Beam int8

// Beam states, as in MusicXML.
const (
	BeamNone Beam = iota
	BeamBegin
	BeamContinue
	BeamEnd
	BeamForwardHook
	BeamBackwardHook
)

// Articulation is a mark on a chord, in MusicXML words: "staccato", "tenuto",
// "accent", "strong-accent", "staccatissimo", "detached-legato", "breath-mark" …
type Articulation string

// Clef is a clef from an onset on.
type Clef struct {
	Staff  int
	Onset  music.Frac
	Sign   string // "G", "F", "C"
	Line   int    // counted from the bottom line, 1
	Octave int    // printed octave change
}

// Slur joins two chords by index. A tie is not a slur.
type Slur struct {
	From, To int
	Above    bool
	Placed   bool // Above is the file's word
	Dashed   bool // an editor's, printed broken
}

// Tuplet is a printed tuplet from one chord to another of the same voice.
type Tuplet struct {
	From, To       int
	Actual, Normal int
	Bracket        bool
	ShowNumber     bool
	Above, Placed  bool
}

// Tempo is a tempo from an onset on.
type Tempo struct {
	Onset music.Frac
	// QuartersPerMinute is what sounds; 0 where the mark is words only.
	QuartersPerMinute float64
	// Text is what is printed ("Andante"), if anything.
	Text string
	// Beat is the printed note value of a metronome mark, with PerMinute beside it.
	Beat      Value
	PerMinute float64
}

// MarkKind is a kind of [Mark], named as MusicXML names its element.
type MarkKind string

// Kinds of marks.
const (
	Words       MarkKind = "words"
	Rehearsal   MarkKind = "rehearsal"
	Dynamics    MarkKind = "dynamics"
	Wedge       MarkKind = "wedge"
	Dashes      MarkKind = "dashes" // after words, as long as they hold
	OctaveShift MarkKind = "octave-shift"
	Pedal       MarkKind = "pedal"
	FiguredBass MarkKind = "figured-bass"
	Harmony     MarkKind = "harmony"
)

// Mark is anything else that stands at an onset.
type Mark struct {
	Onset music.Frac
	End   music.Frac // of a line (wedge, dashes, octave-shift); else equal to Onset
	Staff int
	Kind  MarkKind
	Text  string
	Above bool
	Size  int // octave-shift: 8 or 15, negative downward
}
