// Package realize turns ornament signs into notes: for every sign of a
// passage a ranked list of choices, each with its notes, its reason, its
// sources and its warnings.
//
// It does no I/O, reads no clock and keeps no state: the same passage and the
// same taste always give the same [Reading].
package realize

import (
	"agremens/realize/music"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Reading is a passage with every ornament read.
type Reading struct {
	Passage   *score.Passage
	Tradition string // key of the tradition that was applied
	// Tempo is the goal tempo at the start, in quarters a minute; Assumed
	// says that neither score nor user gave one.
	Tempo        float64
	TempoAssumed bool
	Ornaments    []Ornament // in order of onset, then staff
	Questions    []Question
	Warnings     []string
}

// Ornament is one sign, stack of signs, grace group or arpeggio and what may
// be played for it.
type Ornament struct {
	ID        string // "o1", "o2" … in order of the reading
	Ref       score.Ref
	Note      score.ID // of the principal
	Staff     int
	Voice     string
	Measure   int         // index
	Onset     music.Frac  // of the principal, quarters from the start
	Principal music.Pitch // the outer note on the sign's side
	Notated   music.Frac  // the principal's value with the ties that follow it
	Key       music.Key   // the local key, which may differ from the signature
	// Upper and Lower are the principal's neighbours as the place asks for them.
	Upper, Lower music.Pitch
	Signs        []string // MusicXML names; "grace" and "slash" for small notes
	Figure       string   // what the signs ask for together, one of [Figures]
	Choices      []Choice // best first
	Chosen       int      // in every pass of a repeat that Passes does not name
	Passes       []PassChoice
	// Graces are the chords whose small notes are part of the ornament.
	// Covers are the chord notes that the choices replace, the principal first.
	Covers []score.ID
	Graces []int
}

// Choice is one way to play an ornament.
type Choice struct {
	// Key names the pattern within its ornament, stable between versions
	// ("trill.upper.termination").
	Key  string
	Name string // in the terms of the trade
	// Naming is how the choice's words call its notes, Words their language.
	Naming music.Naming
	Words  *words.Catalogue
	// Notes is everything that sounds in place of the printed note, small
	// notes included, in order of onset. Onsets are relative to the
	// principal's, in quarters; negative ones come before the beat.
	Notes   []Note
	Borrows []Borrow
	// Fingering has one entry a note: the finger suggested, "1" the thumb.
	Fingering []string
	// Fingerings holds the suggestion with its source, then others to change to.
	Fingerings []Fingering
	Reason     string // at most sixty words
	Sources    []Source
	Warnings   []string
	// Meetings say which note of the other hand each note of a short figure
	// meets; [Choice.Meets] tells it in words.
	Meetings []Meeting
	// NotesPerSecond is the speed of the shortest repeated group at the goal tempo.
	NotesPerSecond float64
}

// Note is one note of a choice.
type Note struct {
	Pitch  music.Pitch
	Onset  music.Frac // quarters from the principal's onset
	Dur    music.Frac
	Degree int // scale steps from the principal
	// Tied notes are held over from the note before and not struck.
	Tied bool
	// Strength is relative to the plain touch: 1 plain, above 1 leaning.
	Strength float32
	// Measured says that the note belongs to an exact rhythm; the notes of a
	// free trill do not and are judged by start, rate, evenness and exit.
	Measured bool
}

// Borrow says how much time a neighbour gives: the note before ends early,
// the note after starts late.
type Borrow struct {
	Note   score.ID
	Amount music.Frac // quarters
	After  bool       // the note after gives
}

// Status says how a source is known. [Status.In] says it in words.
type Status string

// Statuses. Only a source that was read carries a place in it.
//
//words:texts
const (
	StatusRead     Status = "read"
	StatusReported Status = "reported"
	CommonPractice Status = "common practice"
	StatusMeasured Status = "measured"
	StatusMemory   Status = "memory"
)

// Source says where a choice comes from.
type Source struct {
	Text   string
	Status Status
}

// Preference says what puts the choices in their order.
type Preference string

// Preferences; "" is the first.
const (
	Sources    Preference = "sources"
	Performers Preference = "performers"
)

// Known reports whether p is one of the preferences.
func (p Preference) Known() bool { return p == "" || p == Sources || p == Performers }

// Taste is what the user has decided, apart from the rules.
type Taste struct {
	// Tradition is a tradition's key; "" follows composer and date.
	Tradition string
	Prefer    Preference
	// Tempo is the goal in quarters a minute; 0 takes the score's.
	Tempo float64
	// Rate is the player's notes a second; 0 is a student's 6.
	Rate float64
	// Reach is how far the player's hand reaches, in semitones; 0 is a ninth's 14.
	Reach int
	// Chosen maps a principal's id to the Key of the choice taken.
	Chosen map[score.ID]string
	// Passes maps a principal's id in one pass of a repeat to the Key of the
	// choice taken there; Chosen holds for the other passes.
	Passes map[InPass]string
	// Own maps a principal's id to a realization of the user's own.
	Own map[score.ID]Own
	// Standing maps signs ([SignsKey]) to the Key of the choice taken wherever
	// nothing is decided for the note itself.
	Standing map[string]string
	// Fingers maps a principal's id to the fingers wanted for one choice.
	Fingers map[score.ID]Fingers
	// Naming is how words call the notes; it decides nothing and is not kept
	// with the decisions.
	Naming music.Naming
	// Words is the language of all words; it too decides nothing and is not kept.
	Words *words.Catalogue
	// Taught says that what is decided is the teacher's, and the words speak to
	// her student. It decides nothing and is not kept.
	Taught bool
}
