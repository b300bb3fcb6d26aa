// Package perf holds what sounds: notes with exact onsets and durations in
// quarters, each linked to the written note it comes from, and the tempo map
// that turns quarters into seconds.
package perf

import (
	"agremens/realize/music"
	"agremens/realize/score"
)

// Hand is the hand that plays a note.
type Hand int8

// Hands. Staff 1 is the right hand's unless the score says otherwise.
const (
	Right Hand = iota
	Left
)

// Note is one sounding note.
type Note struct {
	Onset    music.Frac // quarters from the start of the passage; may be negative by a grace note's lead
	Dur      music.Frac // quarters the key is held
	Pitch    music.Pitch
	Strength float32 // 0 to 1; 0.6 is plain
	Hand     Hand
	// From is the written note this sounds for. All notes of a realized
	// ornament carry their principal's id.
	From score.ID
	// Ornament is the id of the realized ornament ("o3"), "" for plain notes;
	// Index is the note's place within it.
	Ornament string
	Index    int
	// Degree counts scale steps from the ornament's principal.
	Degree int
	// Measured is false for the notes of a free trill, whose number and
	// rhythm are the player's.
	Measured bool
	// Release is set on a note whose key is struck again at once: it ends a
	// little early, so that the key can come up.
	Release bool
	// Leg is the place in the performance's Way of the measure the note
	// belongs to; 0 in the written order.
	Leg int
}

// End returns when the key is let go.
func (n Note) End() music.Frac { return n.Onset.Add(n.Dur) }

// Performance is a passage as it sounds. Notes are sorted by onset, then by
// hand, then from low to high.
type Performance struct {
	Notes []Note
	Tempo TempoMap
	// Beats are the felt beats from the start to the end of the passage.
	Beats []Beat
	// Way is set where the measures are played in an order of their own;
	// onsets then count from its beginning.
	Way   Way
	Start music.Frac // first measure's onset
	End   music.Frac // end of the last measure
}

// Beat is a felt beat.
type Beat struct {
	Onset music.Frac
	// Strong marks the first beat of a measure.
	Strong bool
	// Measure is the index of the written measure.
	Measure int
}
