// Package ear is the listener's side of a round at the piano: what may be
// played comes in as numbers, samples are heard, and numbers go out. The page
// and the listener are two programs, each with a memory of its own; rows of
// float64 are all that passes between them. It is pure.
package ear

import "agremens/realize/perf"

// Note is one key that may be struck.
type Note struct {
	Key  int     // MIDI
	At   float64 // quarters of the tempo expected, from the first note on
	Hand perf.Hand
	// Ornament is the number of the ornament it belongs to, from 0; -1 for a
	// plain note.
	Ornament int
}

// Task is what may be played.
type Task struct {
	About float64 // quarters a minute: a guess, or what the beat asks for
	Notes []Note
	// Speaker is what the page sounds meanwhile, nil where it is silent.
	Speaker *Speaker
}

// Speaker is what a loudspeaker or headphones sound: a beat that is counted in
// first, and perhaps the other hand.
type Speaker struct {
	// Bar is how long after the first of it place 0 of the notes is due, s.
	Bar   float64
	Notes []Sounded // of the other hand, in order
}

// Sounded is a key that the program strikes.
type Sounded struct {
	Key int     // MIDI
	At  float64 // quarters of the tempo asked for, from the notes' place 0 on
}

// A task as numbers begins with the tempo, how many notes the program sounds
// (-1 where all is silent), and when place 0 is due.
const (
	taskHead = 3
	silent   = -1
)

// Pack writes a task as numbers: its head, key and place of each note that the
// program sounds, and key, place, hand and ornament of each that is played.
func (t Task) Pack() []float64 {
	row := []float64{t.About, silent, 0}
	if s := t.Speaker; s != nil {
		row[1], row[2] = float64(len(s.Notes)), s.Bar
		for _, n := range s.Notes {
			row = append(row, float64(n.Key), n.At)
		}
	}
	for _, n := range t.Notes {
		row = append(row, float64(n.Key), n.At, float64(n.Hand), float64(n.Ornament))
	}
	return row
}

// unpackTask reads what Pack wrote; of anything else it takes what there is.
func unpackTask(row []float64) Task {
	var t Task
	if len(row) < taskHead {
		return t
	}
	t.About = row[0]
	if row[1] >= 0 {
		t.Speaker = &Speaker{Bar: row[2]}
	}
	sounded := row[1]
	row = row[taskHead:]
	for ; sounded >= 1 && len(row) >= 2; row = row[2:] {
		t.Speaker.Notes = append(t.Speaker.Notes, Sounded{int(row[0]), row[1]})
		sounded--
	}
	for ; len(row) >= 4; row = row[4:] {
		hand := perf.Right
		if perf.Hand(row[2]) == perf.Left {
			hand = perf.Left
		}
		t.Notes = append(t.Notes, Note{int(row[0]), row[1], hand, int(row[3])})
	}
	return t
}

// State is what became of a note that may be played.
type State int8

// States. A note is not due where it was not reached or belongs to a hand that
// was not played.
const (
	NotDue State = iota
	Played
	Missing
	Unsure // the sound does not tell
)

// Hands says who was heard.
type Hands int8

// Hands heard.
const (
	BothHands Hands = iota
	RightHand
	LeftHand
)

// Beat says what the notes were held against.
type Beat int8

// Beats. But for the first, the page sounded one.
const (
	NoBeat      Beat = iota // each note against those around it
	HeardBeat               // the beat, in the same recording: no delay comes in
	UnheardBeat             // those around it: the beat is not in the recording, headphones were worn
	LeftBeat                // those around it: the player did not keep to the beat, or began anew
)

// Heard is what became of one note.
type Heard struct {
	State State
	At    float64 // when it came, ms of the sound
	Due   float64 // when the beat or the notes around it would have had it, ms
}

// Extra is a strike that no note explains.
type Extra struct {
	At  float64 // ms of the sound
	Key int
}

// Report is what was heard of a round.
type Report struct {
	Reason  Reason
	Hands   Hands
	Beat    Beat
	SNR     float64 // dB, the playing above the quietest moments
	Peak    float64 // 1 is full scale
	Clipped bool
	Cents   float64 // how the instrument is tuned against A = 440 Hz, 0 where that was not found
	Passes  int     // how often the notes were begun; the last time counts
	Notes   []Heard // one for each of the task's
	Extra   []Extra
}

// Reason says why nothing is judged.
type Reason int8

// Reasons; Judged is none.
const (
	Judged Reason = iota
	Silent
	NoNotes
	OtherMusic
	TooNoisy
	TooShort
)

const head = 9 // numbers before the notes

// pack writes a report as numbers.
func (r Report) pack() []float64 {
	clipped := 0.0
	if r.Clipped {
		clipped = 1
	}
	row := []float64{float64(r.Reason), float64(r.Hands), r.SNR, r.Peak, clipped, float64(r.Passes), float64(r.Beat), float64(len(r.Notes)), r.Cents}
	for _, n := range r.Notes {
		row = append(row, float64(n.State), n.At, n.Due)
	}
	for _, x := range r.Extra {
		row = append(row, x.At, float64(x.Key))
	}
	return row
}

// Unpack reads what a listener's Finish returned. Where it is cut short it is
// taken for a round in which there were no notes.
func Unpack(row []float64) Report {
	if len(row) < head || !(row[7] >= 0 && float64(len(row)-head) >= 3*row[7]) {
		return Report{Reason: NoNotes}
	}
	r := Report{Reason: Reason(row[0]), Hands: Hands(row[1]), SNR: row[2], Peak: row[3], Clipped: row[4] != 0, Passes: int(row[5]), Beat: Beat(row[6]), Cents: row[8]}
	n := int(row[7])
	row = row[head:]
	for range n {
		r.Notes = append(r.Notes, Heard{State(row[0]), row[1], row[2]})
		row = row[3:]
	}
	for ; len(row) >= 2; row = row[2:] {
		r.Extra = append(r.Extra, Extra{row[0], int(row[1])})
	}
	return r
}
