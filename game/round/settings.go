// Package round is one round of practice as a pure state machine: which
// measures, how fast, which hand taps and which hands sound, the count-in,
// and then listening or tapping until the result stands.
//
// It reads no clock and touches no device. [Build] lays a round out in sample
// frames; [Round] follows it while the edge tells it the time and the taps.
package round

import (
	"agremens/realize/music"
	"agremens/realize/perf"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Hands says which hands are meant.
type Hands int8

// Hands.
const (
	NoHand Hands = iota
	RightHand
	LeftHand
	BothHands
)

// Has reports whether h includes one hand.
func (h Hands) Has(hand perf.Hand) bool {
	return h == BothHands || h == RightHand && hand == perf.Right || h == LeftHand && hand == perf.Left
}

// Other returns the hand that is not tapped: the left for the right, none for both.
func (h Hands) Other() Hands {
	switch h {
	case RightHand:
		return LeftHand
	case LeftHand:
		return RightHand
	}
	return NoHand
}

// Tempo limits, in per cent of the passage's own tempo.
const (
	SlowestPercent = 20
	FastestPercent = 200
)

// Settings is what the player has set for a round.
type Settings struct {
	From, To int // measure indexes, half-open
	// First and Until, in quarters from the passage's start, keep to a part of
	// the measures, played once as written and without counting in; Until not
	// after First keeps to none.
	First, Until music.Frac
	Percent      float64 // of the goal tempo, 20 to 200; 0 means 100
	Tap          Hands   // NoHand to listen
	Play         Hands   // the hands that sound
	Beat         bool    // clicks on the felt beats
	// Subdivide adds a soft click between the beats, counting in too: halves
	// of a plain beat, thirds of a dotted one.
	Subdivide bool
	CountIn   int // measures counted in; 0 leaves a second of silence
	// Soft counts in with soft clicks and without numbers: it is to be listened to.
	Soft bool
	// Keys says that the keys of an instrument are struck: every note of a
	// rolled chord is wanted then, where a tap stands for the whole of it.
	Keys   bool
	Repeat bool // the measures come again without a gap until stopped
	// Along has repeats and jumps within the measures played as Follow says;
	// else every measure is played once, as written. Legs is how many measures
	// are played then; [Settings.Road] sets it.
	Along  bool
	Follow score.RoadOptions
	Legs   int
	// Voice says to whom the result speaks: "child", or "" the teacher.
	Voice string
	// Words is the language of the result.
	Words *words.Catalogue
}

// part reports whether less than whole measures is meant.
func (s *Settings) part() bool { return s.First.Less(s.Until) }

// Following reports whether the tapped hand sounds too: such a round is
// easier, and its result says so.
func (s Settings) Following() bool {
	return s.Tap != NoHand && (s.Play == BothHands || s.Play == s.Tap || s.Tap == BothHands && s.Play != NoHand)
}
