package score

// SignKind is an ornament sign, named as MusicXML names its element.
type SignKind string

// Ornament signs of MusicXML 4.0. A grace group is no sign: see [Grace].
const (
	TrillMark            SignKind = "trill-mark"
	WavyLine             SignKind = "wavy-line"
	Turn                 SignKind = "turn"
	DelayedTurn          SignKind = "delayed-turn"
	InvertedTurn         SignKind = "inverted-turn"
	DelayedInvertedTurn  SignKind = "delayed-inverted-turn"
	VerticalTurn         SignKind = "vertical-turn"
	InvertedVerticalTurn SignKind = "inverted-vertical-turn"
	Shake                SignKind = "shake"
	Mordent              SignKind = "mordent"          // the sign with the stroke: lower neighbour
	InvertedMordent      SignKind = "inverted-mordent" // without the stroke: short trill
	Schleifer            SignKind = "schleifer"
	Haydn                SignKind = "haydn"
	Tremolo              SignKind = "tremolo"
	OtherOrnament        SignKind = "other-ornament"
)

// Sign is an ornament sign on a chord.
type Sign struct {
	Kind SignKind
	// Glyph is the SMuFL name that an other-ornament gives, if any.
	Glyph string
	// Text is what an other-ornament says in words; the number of strokes of a tremolo.
	Text string
	// Note is the index in Chord.Notes of the note the file stores it on.
	Note int
	// Above and Placed: the side it is printed on, where the file says so.
	Above, Placed bool
	Accidentals   []AccidentalMark
	Sound         TrillSound
	Long          bool   // mordents with an extra wave
	Approach      string // "above", "below": the stroke that leads in
	Departure     string
	Slash         bool // turns with a stroke through them
	// Line is the state of a wavy-line: "start", "stop", "continue".
	Line string
}

// AccidentalMark is an accidental printed with a sign.
type AccidentalMark struct {
	Value string // "sharp", "flat", "natural", "double-sharp", "flat-flat"
	// Below says that it stands under the sign (else above or beside it).
	Below  bool
	Placed bool
}

// Alter returns the alteration in semitones an accidental word asks for.
func Alter(accidental string) (alter int, ok bool) {
	switch accidental {
	case "sharp", "natural-sharp":
		return 1, true
	case "flat", "natural-flat":
		return -1, true
	case "natural":
		return 0, true
	case "double-sharp", "sharp-sharp":
		return 2, true
	case "flat-flat", "double-flat":
		return -2, true
	}
	return 0, false
}

// TrillSound holds the sound attributes MusicXML allows on a sign; zero
// values where the file gives none.
type TrillSound struct {
	StartNote   string // "upper", "main", "below"
	TrillStep   string // "whole", "half", "unison"
	TwoNoteTurn string // "whole", "half", "none"
	Accelerate  bool
	Beats       float64
	SecondBeat  float64 // percent
	LastBeat    float64
}
