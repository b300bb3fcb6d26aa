package practice

import (
	"slices"
	"strings"

	"agremens/game/round"
)

// two players, one hand each, at one device.
func (s *Session) two() error {
	set := s.m.whole(round.BothHands)
	set.Play, set.Beat = round.NoHand, true
	s.add(Step{Act: Strike, Line: s.say("One player left, one right: go together"), Settings: set, counts: true})
	return nil
}

// clap lets everybody clap until it is stopped.
func (s *Session) clap() error {
	set := s.m.whole(round.NoHand)
	set.Play, set.Beat, set.Repeat = round.BothHands, true, true
	s.add(Step{Act: Loop, Line: s.say(clapHand[s.m.oneHand()]), Settings: set})
	return nil
}

// mostPlayers is how many may pass the device round.
const mostPlayers = 8

// ParseNames reads first names or initials, parted by commas; at most eight,
// each once.
func ParseNames(text string) []string {
	var names []string
	for _, name := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		name = strings.Join(strings.Fields(name), " ")
		if name != "" && !slices.Contains(names, name) && len(names) < mostPlayers {
			names = append(names, name)
		}
	}
	return names
}

// pass gives the device round, one round each.
func (s *Session) pass() error {
	if len(s.m.Names) == 0 {
		return s.missing("Write the players' first names or initials first, parted by commas: up to eight.")
	}
	set := s.m.whole(s.m.oneHand())
	for _, name := range s.m.Names[:min(mostPlayers, len(s.m.Names))] {
		s.add(
			Step{Act: Wait, Line: s.say("Give the device to {name}", "{name}", name), Player: name},
			Step{Act: Strike, Line: s.say("{name} taps", "{name}", name), Settings: set, Player: name, counts: true},
		)
	}
	return nil
}
