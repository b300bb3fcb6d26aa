// Package tap judges taps: it aligns what was tapped with what was to be
// heard, and says what a teacher listens for: does the ornament start on its
// beat, is it even, does it land in time, does the beat keep steady around it.
//
// It is pure. All times are milliseconds of one clock (the page's
// performance.now); errors are signed, late positive.
package tap

import (
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Want is one onset that is to be tapped.
type Want struct {
	At       float64 // when it is heard, ms
	Hand     perf.Hand
	Onset    music.Frac // quarters from the start of the passage, or of the way through it
	Written  music.Frac // quarters from the start of the passage: where it stands
	Note     score.ID   // the written note it belongs to
	Ornament string     // id of the realized ornament, "" for a plain note
	// Name is the ornament's name in the terms of the trade ("trill"), for
	// the words; "" reads "ornament".
	Name string
	// Index is the note's place in its ornament, of Count notes in all.
	Index, Count int
	Degree       int  // scale steps from the principal
	Measured     bool // false: a note of a free trill
	Beat         bool // falls on a felt beat
	Strong       bool // falls on a measure's first beat
	Landing      bool // first note after the chosen bars or after an ornament
	Fermata      bool // held at will: what follows is not judged in time
	Tied         bool // held over, not struck
	Key          int  // MIDI key to be struck; 0 leaves pitch unjudged
	// Until is when the key is to be let go, ms; 0 leaves it unjudged.
	Until float64
}

// Tap is one tap, or one key struck.
type Tap struct {
	At   float64
	Hand perf.Hand
	Key  int // MIDI, 0 unknown
	// Strength is the MIDI velocity, 0 unknown; Until is when the key was let
	// go, 0 unknown.
	Strength int
	Until    float64
}

// Span is a stretch of time, ms, ends included.
type Span struct{ From, To float64 }

func (s Span) holds(t float64) bool { return t >= s.From && t <= s.To }

// Options is what the judge has to know beside wants and taps.
type Options struct {
	// Lead is the player's calibrated mean error, ms (negative: early); nil
	// where no calibration was made. Plain notes come before it.
	Lead *float64
	// BeatMS is the length of a felt beat as played; 0 is worked out from the wants.
	BeatMS float64
	// Gaps are stretches in which the clock was not to be trusted. One that lies
	// in the round spoils it.
	Gaps []Span
	// Voice says to whom Summary and Next speak: "child" or "teacher" (also "").
	Voice string
	// Alone says that no other hand sounds: ornaments are held against the beat.
	// Where one sounds or is tapped, they are held against that.
	Alone bool
	// Words is the language of the findings; nil is English.
	Words *words.Catalogue

	said *Words // made of Words by Judge
}

// Result is a judged round.
type Result struct {
	// Wanted = Hit + Missed counts strokes: notes struck together by one hand
	// count once, tied ones not at all, and the inner notes of a free trill
	// only as far as they were tapped.
	Wanted, Hit, Missed, Extra int
	// MeanMS and SpreadMS are the raw mean and standard deviation of the
	// errors of all hits; no lead is taken out.
	MeanMS, SpreadMS float64
	Marks            []Mark // in order of time
	Ornaments        []OrnamentResult
	Findings         []Finding // most important first
	Summary          string    // one sentence
	Next             string    // one step
	Lead             LeadInfo  // of the hand that tapped more
	Leads            [2]LeadInfo
	Together         Together
	// WrongKeys counts hits on another key than the one wanted.
	WrongKeys int
	// Clean says that the round meets the climb's standard, over all its
	// ornaments together: they start and land within max(40 ms, 5 % of the
	// beat), their notes are even, the other hand and the two beats after keep
	// within 5 % of the tempo, at most one note in ten is missed or extra, and
	// no other fault is heard.
	Clean bool
	// Spoilt is the code of why the round does not count, "" where it does. Such
	// a round has no ornaments, answers or faults, and one finding: the reason.
	Spoilt string
	// Certain is false where the round is spoilt, there was too little to tell,
	// or the player's lead is unknown.
	Certain bool
	// Doubt says why not, in a sentence.
	Doubt string

	swapped int // neighbours whose keys changed places
}

// Mark links one want with one tap.
type Mark struct {
	Want    int // index, -1 for an extra tap
	Tap     int // index, -1 for a missed want
	ErrorMS float64
	// Free marks a missed inner note of a free trill, or an extra tap in one:
	// shown if at all without blame, and not counted.
	Free bool
}

// LeadInfo is how far a player's plain taps stand from what is heard.
type LeadInfo struct {
	Hand perf.Hand
	MS   float64 // negative: early
	// From is "plain" (learned from plain notes), "ornaments" (from how these
	// start, where the plain notes come late after them), "calibration" or ""
	// (unknown, MS 0).
	From string
	N    int     // notes it was learned from
	SE   float64 // its standard error, ms
	// Drift is how much the lead changes in a second, ms, where the beat
	// clearly runs ahead (negative) or falls behind.
	Drift float64
	mid   float64 // time at which MS holds
}

// Known reports whether the lead was learned or calibrated.
func (l LeadInfo) Known() bool { return l.From != "" }

// Learned reports whether it was learned from this round's taps.
func (l LeadInfo) Learned() bool { return l.From == "plain" || l.From == "ornaments" }

// at returns the lead expected at a time.
func (l LeadInfo) at(t float64) float64 { return l.MS + l.Drift*(t-l.mid)/1000 }

// Together is how far the hands stand apart where both have a plain note.
type Together struct {
	N                int
	MeanMS, SpreadMS float64 // right minus left
}

// Finding is one thing heard, in words.
type Finding struct {
	Code           string
	Child, Teacher string
	Next           string
	MS             float64 // its size where it is a time
	Percent        float64 // its size where it is a ratio
	Ornament       string  // "" where it holds for all
	Fault          bool    // false: a remark
}
