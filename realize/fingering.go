package realize

import (
	"math/bits"
	"slices"
	"strings"

	"agremens/realize/score"
)

// Fingering is one way to finger a choice.
type Fingering struct {
	// Fingers has one finger a note of the choice, "1" is the thumb.
	Fingers []string
	Why     string // in a few words
	Source  Source
}

// pair names the fingers of the upper note and of the principal.
type pair struct {
	upper, main int
	why, from   string
}

// Trill pairs by hand. The first two of each hand: Couperin 1716, C.P.E. Bach
// 1753 (Versuch I, 2.3 §10) and Clementi 1801 agree, read. The wide ones: C.P.E. Bach
// (2.3 §12), some people on a heavy keyboard, read; for the left hand common
// practice.
//
//words:texts why
var (
	rightPairs = []pair{
		{upper: 3, main: 2, why: "3 and 2, the termination with 1", from: "fingers"},
		{upper: 4, main: 3, why: "4 and 3, the termination with 2; the line continues upwards", from: "fingers"},
		{upper: 4, main: 2, why: "a wider stretch, for a heavy keyboard", from: "cpe-3-12"},
		{upper: 5, main: 3, why: "a wider stretch, for a heavy keyboard", from: "cpe-3-12"},
	}
	leftPairs = []pair{
		{upper: 1, main: 2, why: "1 and 2, which do most of the left hand's work", from: "fingers"},
		{upper: 2, main: 3, why: "2 and 3; the line continues upwards", from: "fingers"},
		{upper: 1, main: 3, why: "wider", from: "common"},
		{upper: 2, main: 4, why: "wider", from: "common"},
	}
)

//words:texts
const handStays = "the hand keeps its place"

// fingerings suggests fingers for the hand the ornament lies in, the most
// usual first. Keys that the same hand holds keep the outer fingers they need.
func (pl *place) fingerings(notes []Note) []Fingering {
	if len(notes) == 0 {
		return nil
	}
	pairs := rightPairs
	if pl.has(leftHand) {
		pairs = leftPairs
	}
	if pl.has(nextUp) {
		pairs = []pair{pairs[1], pairs[0], pairs[2], pairs[3]}
	}
	var out []Fingering
	below, above := pl.heldKeys(notes)
	shaken := hasStep(notes, 1) && hasStep(notes, 0)
	for i, p := range pairs {
		if i > 0 && !shaken {
			break // another pair changes nothing of use here
		}
		fingers := pl.assign(notes, p, below, above)
		if slices.ContainsFunc(out, func(f Fingering) bool { return slices.Equal(f.Fingers, fingers) }) {
			continue
		}
		if i > 0 && !follows(notes, fingers, p) {
			continue
		}
		why, from := p.why, p.from
		if !shaken || below+above > 0 || !follows(notes, fingers, p) {
			why, from = handStays, "common"
		}
		out = append(out, Fingering{fingers, pl.say(why), pl.r.source(from)})
	}
	return out
}

// follows reports whether fingers use a pair for upper note and principal.
func follows(notes []Note, fingers []string, p pair) bool {
	for i, n := range notes {
		if n.Degree == 1 && fingers[i] != fingerNames[p.upper] || n.Degree == 0 && fingers[i] != fingerNames[p.main] {
			return false
		}
	}
	return true
}

// heldKeys counts the keys that the same hand holds under and over the
// ornament: notes of its chord that the choice does not play, and of another
// voice of the staff.
func (pl *place) heldKeys(notes []Note) (below, above int) {
	count := func(key int) {
		for i := range notes {
			if notes[i].Pitch.MIDI() == key {
				return
			}
		}
		switch d := key - pl.pitch.MIDI(); {
		case d < 0 && d > -reach:
			below++
		case d > 0 && d < reach:
			above++
		}
	}
	for j := range pl.chord.Notes {
		if j != pl.ref.Note {
			count(pl.chord.Notes[j].Pitch.MIDI())
		}
	}
	pl.r.sounding(pl.chord.Onset, pl.chord.Onset.Add(pl.room), func(c *score.Chord, n *score.Note) {
		if c.Staff == pl.chord.Staff && n.Staff == pl.note.Staff && c.Onset.Cmp(pl.chord.Onset) <= 0 {
			count(n.Pitch.MIDI())
		}
	}, pl)
	return below, above
}

// assign gives each note a finger: notes that lie within one position of the
// hand get fingers in the order of their keys, a new position begins where a
// sixth key or a wide step is needed.
func (pl *place) assign(notes []Note, p pair, below, above int) []string {
	out := make([]string, len(notes))
	for from := 0; from < len(notes); {
		keys := []int{notes[from].Degree}
		to := from + 1
		for to < len(notes) {
			more := insert(keys, notes[to].Degree)
			chord := notes[to].Onset == notes[to-1].Onset
			if !chord && (len(more) > 5 || len(more) > len(keys) && more[len(more)-1]-more[0] > 8) {
				break
			}
			keys, to = more, to+1
		}
		fingers := pl.position(keys, p, below, above)
		for i := from; i < to; i++ {
			out[i] = fingerNames[fingers[slices.Index(keys, notes[i].Degree)]]
		}
		from = to
	}
	return out
}

// insert puts a degree into a sorted list once.
func insert(keys []int, degree int) []int {
	at, found := slices.BinarySearch(keys, degree)
	if found {
		return keys
	}
	more := make([]int, 0, len(keys)+1)
	return append(append(append(more, keys[:at]...), degree), keys[at:]...)
}

// position chooses fingers for keys from low to high: as far apart as the
// keys are, upper note and principal with their pair, the outer fingers left
// to what is held. More than five keys share the thumb's side.
func (pl *place) position(keys []int, p pair, below, above int) []int {
	left := pl.has(leftHand)
	if left {
		below, above = above, below
	}
	near := len(keys) == 1 || slices.Contains(keys, 1) || slices.Contains(keys, -1)
	best, fingers, least := make([]int, len(keys)), make([]int, len(keys)), 1<<20
	spare := max(0, len(keys)-5)
	for set := range 32 {
		n := spare
		for i := range fingers[:spare] {
			fingers[i] = 1
		}
		for f := 1; f <= 5 && n < len(keys); f++ {
			if set&(1<<(f-1)) != 0 {
				fingers[n] = f
				n++
			}
		}
		if n < len(keys) || bits.OnesCount(uint(set)) != len(keys)-spare {
			continue
		}
		cost := 20*max(0, below+1-fingers[0]) + 20*max(0, fingers[len(fingers)-1]-(5-above))
		if left {
			slices.Reverse(fingers)
		}
		for i := range keys {
			if i > 0 {
				apart, far := fingers[i]-fingers[i-1], keys[i]-keys[i-1]
				if left {
					apart = -apart
				}
				cost += abs(apart - min(far, 4))
			}
			switch {
			case keys[i] == 0 && near:
				cost += 3 * abs(fingers[i]-p.main)
			case keys[i] == 1:
				cost += 3 * abs(fingers[i]-p.upper)
			}
		}
		if cost < least {
			least = cost
			copy(best, fingers)
		}
	}
	return best
}

var fingerNames = [6]string{"", "1", "2", "3", "4", "5"}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

func hasStep(notes []Note, step int) bool {
	return slices.ContainsFunc(notes, func(n Note) bool { return n.Degree == step })
}

// fingered gives a choice its fingerings.
func (c *Choice) fingered(all []Fingering) {
	c.Fingering, c.Fingerings = nil, all
	if len(all) > 0 {
		c.Fingering = all[0].Fingers
	}
}

// Fingers prints a fingering in one word, "3 2 3 2 1 2".
func (c *Choice) Fingers() string { return strings.Join(c.Fingering, " ") }
