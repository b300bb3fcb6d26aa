package practice

import (
	"slices"
	"strconv"

	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/sorting"
)

// asked is how many questions one session by ear has at most.
const asked = 4

// pair returns the chosen way and the first other one that sounds different.
func pair(o *realize.Ornament) (a, b int, ok bool) {
	for i := range o.Choices {
		if i != o.Chosen && !realize.SameNotes(o.Choices[o.Chosen].Notes, o.Choices[i].Notes) {
			return o.Chosen, i, true
		}
	}
	return 0, 0, false
}

// two readings of the passage that differ in one ornament, and its measure to
// be heard.
func (s *Session) twoWays() (o *realize.Ornament, readings [2]*realize.Reading, options []Option, set round.Settings, err error) {
	var a, b int
	var ok bool
	inside := s.m.inside()
	if one, has := s.m.ornament(); has {
		inside = append([]*realize.Ornament{one}, inside...)
	}
	for _, o = range inside {
		if a, b, ok = pair(o); ok {
			break
		}
	}
	if !ok {
		return nil, readings, nil, set, s.missing("The chosen bars hold no ornament that can be played in two ways. Choose other bars.")
	}
	for k, i := range [2]int{a, b} {
		readings[k] = s.m.Reading.Choose(o.ID, i)
		c := &o.Choices[i]
		options = append(options, Option{Label: string(rune('A' + k)), Detail: c.Name + ", " + desk.NotesInWords(c),
			Show: &Show{Reading: readings[k], Ornament: o.ID, Choice: i}, reading: readings[k]})
	}
	set = s.m.tapped(round.NoHand, o.Measure, o.Measure+1)
	set.Play, set.Beat, set.Soft = round.BothHands, false, true
	return o, readings, options, set, nil
}

func (s *Session) which() error {
	o, readings, options, set, err := s.twoWays()
	if err != nil {
		return err
	}
	for k, r := range readings {
		s.add(Step{Act: Hear, Line: s.say("This is {label}: {detail}", "{label}", options[k].Label, "{detail}", options[k].Detail), Settings: set, Still: true, reading: r})
	}
	for i := range asked {
		k := s.m.choose(2, i)
		s.add(
			Step{Act: Hear, Line: s.say("Which is this? {n} of {all}", "{n}", strconv.Itoa(i+1), "{all}", strconv.Itoa(asked)), Settings: set, Still: true, reading: readings[k]},
			Step{Act: Ask, Line: s.say("Was it A or B?"), Options: options, Right: k,
				Reveal: s.say("It was {label}. {reason}", "{label}", options[k].Label, "{reason}", o.Choices[index(o, k)].Reason)},
			s.compare(options, set),
		)
	}
	return nil
}

// compare lets both ways be heard once more after an answer, as often as
// one likes.
func (s *Session) compare(options []Option, set round.Settings) Step {
	return Step{Act: Compare, Line: s.say("Hear them once more, if you like"), Settings: set, Options: options, Right: -1}
}

// index returns the choice that stands for A (0) or B (1).
func index(o *realize.Ornament, k int) int {
	a, b, _ := pair(o)
	if k == 0 {
		return a
	}
	return b
}

func (s *Session) vote() error {
	o, readings, options, set, err := s.twoWays()
	if err != nil {
		return err
	}
	bare := []Option{{Label: "A"}, {Label: "B"}}
	reveal := ""
	for k, r := range readings {
		s.add(Step{Act: Hear, Line: s.say("This is {label}", "{label}", bare[k].Label), Settings: set, Still: true, reading: r})
		c := &o.Choices[index(o, k)]
		reveal += s.say("{label} is {detail}: {reason}", "{label}", options[k].Label, "{detail}", options[k].Detail, "{reason}", c.Reason)
		if len(c.Sources) > 0 {
			reveal += " (" + c.Sources[0].Text + ")"
		}
		reveal += "\n"
	}
	s.add(Step{Act: Count, Line: s.say("One press for every hand that is up, then done"), Options: bare, Right: -1, Reveal: reveal})
	return nil
}

// first asks for the first note of each ornament before it is heard.
func (s *Session) first() error {
	inside := s.m.inside()
	if len(inside) == 0 {
		return s.noOrnament()
	}
	for _, o := range inside[:min(asked, len(inside))] {
		c := chosen(o)
		begins := slices.IndexFunc(c.Notes, func(n realize.Note) bool { return !n.Tied })
		if begins < 0 {
			continue
		}
		right := c.Notes[begins].Pitch
		options, at := firstOptions(o.Principal, right, s.m.Passage.KeyAt(o.Onset), c, s.m.choose(3, len(s.steps)))
		bar := s.m.Passage.Measures[o.Measure].Number
		set := s.m.tapped(round.NoHand, o.Measure, o.Measure+1)
		set.Play = round.BothHands
		s.add(
			Step{Act: Ask, Line: s.say("Bar {bar}, the sign on {note}: which note begins it?", "{bar}", bar, "{note}", c.Naming.Name(o.Principal)),
				Options: options, Right: at,
				Reveal: s.say("It begins on {note}: {notes}. {reason}", "{note}", c.Naming.Name(right), "{notes}", desk.NotesInWords(c), "{reason}", c.Reason)},
			Step{Act: Hear, Line: s.say("Listen: bar {bar}", "{bar}", bar), Settings: set},
		)
	}
	if len(s.steps) == 0 {
		return s.noOrnament()
	}
	return nil
}

// firstOptions are the main note, its neighbours and what really comes first.
// They stand in order of pitch, begun somewhere else each time, so that the
// right one has no place of its own.
func firstOptions(main, right music.Pitch, key music.Key, c *realize.Choice, turn int) (options []Option, at int) {
	pitches := []music.Pitch{main}
	add := func(p music.Pitch) {
		if !slices.ContainsFunc(pitches, func(q music.Pitch) bool { return c.Naming.Name(q) == c.Naming.Name(p) }) {
			pitches = append(pitches, p)
		}
	}
	add(right)
	for _, n := range c.Notes {
		if n.Degree == 1 || n.Degree == -1 {
			add(n.Pitch)
		}
	}
	for _, steps := range []int{1, -1} {
		if len(pitches) < 3 {
			add(main.Neighbour(steps, key))
		}
	}
	pitches = pitches[:min(3, len(pitches))]
	sorting.Stable(pitches, func(a, b music.Pitch) int { return a.MIDI() - b.MIDI() })
	pitches = append(pitches[turn%len(pitches):], pitches[:turn%len(pitches)]...)
	for i, p := range pitches {
		options = append(options, Option{Label: c.Naming.Name(p)})
		if c.Naming.Name(p) == c.Naming.Name(right) {
			at = i
		}
	}
	return options, at
}
