package conduct

import (
	"agremens/game/round"
	"agremens/realize/tap"
	"agremens/synth"
	"agremens/synth/clock"
	"agremens/synth/tuning"
)

// Rate is the sample rate of all sound, in frames a second.
const Rate = 48000

// Sound is what rounds are heard through. Its engine's part is that of
// [synth.Engine].
type Sound interface {
	// Open opens the device; once it is open that does nothing.
	Open() error
	// Poll brings the clock up to date.
	Poll()
	Clock() *clock.Clock
	// Held reports whether the device or the browser has paused the sound.
	Held() bool
	// Failure says why the device gives no sound, "" where nothing is known.
	Failure() string
	// Lead is the player's own mean error on the present output in
	// milliseconds, nil where it was not measured; Measured reports whether
	// the delay of that output was.
	Lead() *float64
	Measured() bool
	// PictureMS is how late the page's picture is.
	PictureMS() float64

	Play(synth.Sequence) (start int64)
	ReplaceFrom(seq synth.Sequence, at, from int64) (start int64)
	Rendered() int64
	Stop()
	SetInstrument(synth.Instrument) error
	SetInstrumentAt(i synth.Instrument, at int64) error
	SetTuning(tuning.Tuning)
	SetTuningAt(t tuning.Tuning, at int64)
}

// Page shows what the conductor does. It reads the rest from the conductor.
type Page interface {
	// State tells that the state is another, and whether a round that is
	// tapped sounds or is about to.
	State(s round.State, tapping bool)
	// Say adds a message that stays until Hush; Status says something in passing.
	Say(text string)
	Hush()
	Status(text string)
	// Show brings the controls and words up to date, Refresh the staff.
	Show()
	Refresh()
	// Marked tells that the marks on the staff are others.
	Marked()
	// Waiting tells that a round is about to begin, Began that it sounds, Ended
	// that nothing sounds any more, Finished that its outcome is shown.
	Waiting(tapping bool)
	Began()
	Ended()
	Finished()
	// Struck tells at once what was just tapped in a tapping round, or let go.
	Struck(down bool, t tap.Tap)
	// Asked tells that a step has come that waits for an answer, Still that one
	// has come during which the staff stays at rest at its beginning.
	Asked()
	Still()
	// Big shows the staff as large as there is room, for many to read.
	Big(on bool)
}

// Host owns the desk and the log.
type Host interface {
	// Changed tells that what may be seen on the staff is another.
	Changed()
	// Keep keeps the desk.
	Keep()
	// Chosen keeps the kind of round that was chosen.
	Chosen(kind string)
	// Record takes what was done in a round, and what it was tapped on.
	Record(records []round.Record, with string)
	// Listened tells that something was listened to, for so many seconds.
	Listened(seconds float64)
}

// Time tells the page's time in milliseconds.
type Time interface{ Now() float64 }
