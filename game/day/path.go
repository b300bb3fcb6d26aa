package day

import (
	"slices"
	"strings"

	"agremens/game/practice"
	"agremens/realize/words"
)

// Along begins a day along a teacher's path: listen, her kinds of round in her
// order, the end. Without any it is the ten minutes.
func Along(kinds []string) Day {
	var path []string
	for _, key := range kinds {
		if _, ok := practice.Find(key); ok && !slices.Contains(path, key) {
			path = append(path, key)
		}
	}
	return Day{On: true, Path: strings.Join(path, " ")}
}

// Steps returns the steps of the day in order, the end included.
func (d Day) Steps() []Step {
	if d.Path == "" {
		return Steps()
	}
	out := []Step{steps[0]}
	for _, key := range strings.Fields(d.Path) {
		out = append(out, stepOf(key))
	}
	return append(out, steps[len(steps)-1])
}

// stepOf is the step that a kind of round is. At the piano is the ten minutes'
// own.
func stepOf(key string) Step {
	if key == practice.Piano {
		return steps[4]
	}
	kind, _ := practice.Find(key)
	s := Step{Key: Key(key), Name: short[key], Deed: kind.Name, Ask: kind.Purpose, Minutes: 2}
	if kind.Long {
		s.Minutes = 4
	}
	return s
}

// short names the kinds in a word or two, for a step on a narrow path.
//
//words:texts
var short = map[string]string{
	practice.Tap: "Tap", practice.Echo: "Echo", practice.One: "One hand", practice.Both: "Both hands", practice.Inside: "Against the beat",
	practice.Plain: "Plain first", practice.Grow: "Grow", practice.Land: "Land", practice.Alone: "Without help", practice.Trill: "Long trill",
	practice.Climb: "Climb", practice.Which: "Which?", practice.Sign: "Which sign?", practice.First: "First note", practice.Two: "Two players",
	practice.Clap: "Clap", practice.Pass: "Round the group", practice.Vote: "Vote",
}

// later is a step further on that a round belongs to, 0 for none: who goes
// ahead on the path is not called back. The ten minutes are taken in order.
func (d Day) later(r Done) int {
	if d.Path == "" {
		return 0
	}
	for i := d.Step + 1; i < len(d.Steps()); i++ {
		if d.to(i).fits(r) {
			return i
		}
	}
	return 0
}

// Enough reports whether the step has had enough of it, so that the next one is
// what comes: two clean rounds, its time, or what is done once.
func (d Day) Enough() bool {
	if !d.Tried || !d.On {
		return false
	}
	return d.Clean >= enough || d.Seconds >= 60*d.Current().Minutes || d.Rounds == 0 || d.Current().Key == Unaided || string(d.Current().Key) == practice.Alone
}

// Mark is how a step stands on the path.
type Mark string

// Marks.
const (
	Behind Mark = "done"
	Now    Mark = "now"
	Ahead  Mark = "later"
)

// Stone is a step as it is drawn on the path.
type Stone struct {
	Name string
	Mark Mark
}

// Stones returns the steps of the path without its end.
func (d Day) Stones(c *words.Catalogue) []Stone {
	if !d.On {
		return nil
	}
	all := d.Steps()
	out := make([]Stone, len(all)-1)
	for i := range out {
		out[i] = Stone{Name: c.Say(all[i].Name), Mark: Ahead}
		switch {
		case i < d.Step:
			out[i].Mark = Behind
		case i == d.Step:
			out[i].Mark = Now
		}
	}
	return out
}
