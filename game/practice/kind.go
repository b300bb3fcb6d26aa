// Package practice holds the kinds of round there are, each for one purpose,
// as pure descriptions over game/round: a kind and the material on the desk
// make a [Session], a row of steps that are heard, tapped, asked or waited
// for. It is fed with what happens and can be replayed.
package practice

import "agremens/realize/words"

// Keys of the kinds.
const (
	Tap    = "tap"
	Echo   = "echo"
	One    = "one"
	Both   = "both"
	Inside = "inside"
	Plain  = "plain"
	Grow   = "grow"
	Land   = "land"
	Alone  = "alone"
	Trill  = "trill"
	Climb  = "climb"
	Piano  = "piano"
	Which  = "which"
	Sign   = "sign"
	First  = "first"
	Two    = "two"
	Clap   = "clap"
	Pass   = "pass"
	Vote   = "vote"
)

// Kind is one kind of round.
type Kind struct {
	Key     string
	Name    string
	Purpose string // one plain sentence
	Group   string // heading in menus
	// Long says that it is fast or goes on for long: the caution stands beside it.
	Long bool
	// Covered says that what is played must not be seen while it is asked for.
	Covered bool
	// Names says that first names are asked for.
	Names bool
}

//words:texts
const (
	tapping  = "Tapping"
	byEar    = "By ear"
	together = "Together"
)

// Kinds returns all kinds in the order of menus, in English. The first is the
// default.
//
//words:texts Name Purpose
func Kinds() []Kind {
	return []Kind{
		{Key: Tap, Group: tapping, Name: "Basic round",
			Purpose: "Tap the chosen hand while the program plays what you have chosen to hear."},
		{Key: Echo, Group: tapping, Name: "Hear, then echo",
			Purpose: "Two bars are played, then you tap them to the beat alone: it shows what you remember."},
		{Key: One, Group: tapping, Name: "One hand with the program",
			Purpose: "The program plays the other hand and does not wait: go with it."},
		{Key: Both, Group: tapping, Name: "Both hands",
			Purpose: "Tap both hands: it shows whether they fall together, under the ornament too."},
		{Key: Inside, Group: tapping, Name: "The ornament against the beat",
			Purpose: "Tap the beat and, in its place, the ornament: it shows whether it fits between the beats."},
		{Key: Plain, Group: tapping, Name: "Plain, then ornamented",
			Purpose: "The plain notes first, then the same with the ornament: the beat should stay the same."},
		{Key: Grow, Group: tapping, Name: "Grow from the first note",
			Purpose: "Only the note that belongs on the beat, then two, four, all: the start stays where it was."},
		{Key: Land, Group: tapping, Name: "Land first",
			Purpose: "The last two notes and the next beat, then add notes in front: learn the exit first."},
		{Key: Alone, Group: tapping, Name: "Without help",
			Purpose: "No clicks and no moving line after the count-in: it shows what has stuck."},
		{Key: Trill, Group: tapping, Name: "A long trill, measured", Long: true,
			Purpose: "A fixed number of trill notes to each note of the other hand, few enough to manage at the goal tempo."},
		{Key: Climb, Group: tapping, Name: "Climb to the goal tempo", Long: true,
			Purpose: "From a comfortable tempo up, a step after every clean round, four steps down after any other."},
		{Key: Piano, Group: tapping, Name: "At the piano", Long: true,
			Purpose: "At your instrument: the program plays the other hand and the beat again and again, or it listens and says how it went."},
		{Key: Which, Group: byEar, Name: "Which of the two?", Covered: true,
			Purpose: "Two ways to play one sign, then one of them: say by ear which it was."},
		{Key: Sign, Group: byEar, Name: "Which sign was it?", Covered: true,
			Purpose: "An ornament sounds: say by ear which sign it belongs to."},
		{Key: First, Group: byEar, Name: "Name the first note", Covered: true,
			Purpose: "Say which note begins each ornament before you hear it."},
		{Key: Two, Group: together, Name: "Two players, one hand each",
			Purpose: "One taps the left hand and one the right, at one device: listen to each other."},
		{Key: Clap, Group: together, Name: "Clap to the big staff", Long: true,
			Purpose: "A large staff for everybody to clap to; nothing is judged."},
		{Key: Pass, Group: together, Name: "Pass the device round", Names: true,
			Purpose: "One round for each of up to eight players; in the end what you work on together."},
		{Key: Vote, Group: together, Name: "A or B? A vote", Covered: true,
			Purpose: "Two ways to play one sign are heard and voted on, and only then explained."},
	}
}

// Taps reports whether something is tapped in a kind of round.
func (k Kind) Taps() bool {
	switch k.Key {
	case Piano, Clap, Which, Sign, First, Vote:
		return false
	}
	return true
}

// In returns a kind in a language's words.
func (k Kind) In(c *words.Catalogue) Kind {
	k.Name, k.Purpose, k.Group = c.Say(k.Name), c.Say(k.Purpose), c.Say(k.Group)
	return k
}

// Find returns a kind by its key.
func Find(key string) (Kind, bool) {
	for _, k := range Kinds() {
		if k.Key == key {
			return k, true
		}
	}
	return Kind{}, false
}
