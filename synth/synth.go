// Package synth makes sound: notes and clicks at exact sample frames in,
// stereo samples out. Nothing here is recorded; every instrument is a set of
// modes (decaying or sustained sinusoids) struck, plucked or blown together,
// after what is known of its strings or pipes.
//
// The package knows no device and no clock. Time is counted in frames of the
// engine's rate; one frame is a sample for the left and one for the right.
package synth

import "math"

// Instrument is the key of an instrument: "harpsichord", "click", …
type Instrument string

// Note is a key held from Start to End, in frames from the sequence's start.
type Note struct {
	Start, End int64
	// Key is the MIDI key, 60 for c'.
	Key int
	// Cents moves the pitch; 0 is the tuning's.
	Cents float64
	// Strength is 0 to 1; 0.6 is plain. Where touch makes no difference a
	// stronger note is held a little over the next instead.
	Strength float32
}

// ClickKind tells the beats of a measure apart.
type ClickKind int8

// Kinds of beat clicks.
const (
	Beat ClickKind = iota
	Strong
	Sub
)

// Click is a beat click.
type Click struct {
	At   int64 // frames from the sequence's start
	Kind ClickKind
}

// Sequence is what is to sound. The order of notes and clicks is free.
//
// With Loop, the frames from LoopStart to Length repeat for ever without a
// gap; notes held over the end keep sounding into the next pass, and what
// begins at or after Length is not played. Without Loop, Length only tells
// RenderSequence where the tail begins.
type Sequence struct {
	Notes     []Note
	Clicks    []Click
	Length    int64
	Loop      bool
	LoopStart int64 // after the count-in
}

// decibels turns a level into a factor.
func decibels(db float64) float64 { return math.Pow(10, db/20) }
