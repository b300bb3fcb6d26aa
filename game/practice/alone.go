package practice

import (
	"strconv"

	"agremens/game/round"
)

func (s *Session) noOrnament() error {
	return s.missing("The chosen bars hold no ornament. Choose other bars.")
}

// asSet is the round as it is set on the desk.
func (s *Session) asSet() error {
	s.add(Step{Act: Strike, Line: s.say(tapHand[s.m.Settings.Tap]), Settings: s.m.Settings, plain: s.m.Plain, counts: true})
	return nil
}

func (s *Session) add(steps ...Step) { s.steps = append(s.steps, steps...) }

// whole is tapped for all chosen measures, with the repeats that are chosen.
func (m *Material) whole(hand round.Hands) round.Settings {
	set := m.tapped(hand, m.Settings.From, m.Settings.To)
	set.Along = m.Settings.Along
	return set
}

// tapped returns the player's settings for a round of one hand, the other
// one sounding, in the order in which the measures are written.
func (m *Material) tapped(hand round.Hands, from, to int) round.Settings {
	set := m.Settings
	set.From, set.To, set.Tap, set.Play, set.Repeat = from, to, hand, hand.Other(), false
	set.Along = false
	set.CountIn = max(1, set.CountIn)
	return set
}

// oneHand is the hand that is set, or the right one where both are.
func (m *Material) oneHand() round.Hands {
	if m.Settings.Tap == round.BothHands {
		return round.RightHand
	}
	return m.Settings.Tap
}

func (s *Session) one() error {
	hand := s.m.oneHand()
	s.add(Step{Act: Strike, Line: s.say(tapHand[hand]), Settings: s.m.whole(hand), counts: true})
	return nil
}

func (s *Session) both() error {
	set := s.m.whole(round.BothHands)
	set.Play = round.NoHand
	s.add(Step{Act: Strike, Line: s.say(tapHand[round.BothHands]), Settings: set, counts: true})
	return nil
}

// Phrases of an echo, in measures, and how many there are at most.
const (
	echoMeasures = 2
	echoPhrases  = 4
)

func (s *Session) echo() error {
	hand := s.m.oneHand()
	for from := s.m.Settings.From; from < s.m.Settings.To && len(s.steps) < 2*echoPhrases; {
		to := min(from+echoMeasures, s.m.Settings.To)
		// A pickup goes with the measures it leads into, a last short rest of
		// the passage with those before it.
		if from == 0 && s.m.Passage.Measures[0].Implicit || to == s.m.Settings.To-1 {
			to = min(to+1, s.m.Settings.To)
		}
		heard := s.m.tapped(round.NoHand, from, to)
		heard.Play = hand
		back := s.m.tapped(hand, from, to)
		back.Play, back.Beat = round.NoHand, true
		bars := s.m.bars(from, to)
		s.add(
			Step{Act: Hear, Line: s.say("Hear {bars}", "{bars}", bars), Settings: heard},
			Step{Act: Strike, Line: s.say("Tap {bars} from memory", "{bars}", bars), Settings: back, Still: true, counts: true},
		)
		from = to
	}
	return nil
}

// bars names measures, half-open: "bar 3", "bars 1–2".
func (m *Material) bars(from, to int) string {
	first, last := m.Passage.Measures[from].Number, m.Passage.Measures[to-1].Number
	if first == last {
		return m.Settings.Words.Say("bar {bar}", "{bar}", first)
	}
	return m.Settings.Words.Say("bars {from}–{to}", "{from}", first, "{to}", last)
}

func (s *Session) plainFirst() error {
	if _, ok := s.m.ornament(); !ok {
		return s.noOrnament()
	}
	hand := s.m.oneHand()
	set := s.m.whole(hand)
	s.add(
		Step{Act: Strike, Line: s.say("The plain notes alone"), Settings: set, plain: true, again: true},
		Step{Act: Strike, Line: s.say("The same with the ornament"), Settings: set, counts: true},
	)
	return nil
}

// growing are the numbers of notes an ornament grows by.
var growing = [...]int{1, 2, 4}

func (s *Session) grow() error {
	o, ok := s.m.ornament()
	if !ok {
		return s.noOrnament()
	}
	hand := handOf(o)
	from, to := s.m.around(o)
	set := s.m.tapped(hand, from, to)
	all := struck(o)
	// Where both hands are set, the clock comes first.
	if s.m.Settings.Tap == round.BothHands {
		other := s.m.tapped(hand.Other(), from, to)
		other.Play = round.NoHand
		s.add(Step{Act: Strike, Line: s.say(firstHand[hand.Other()]), Settings: other})
		set.Tap, set.Play = round.BothHands, round.NoHand
	}
	for _, n := range growing {
		if n < all {
			s.add(Step{Act: Strike, Line: s.words().Count(n, "Only the first note of the ornament", "Only the first {n} notes of the ornament"), Settings: set,
				shape: firstNotes(n), again: true})
		}
	}
	s.add(Step{Act: Strike, Line: s.words().Count(all, "The one note", "All {n} notes"), Settings: set, counts: true})
	return nil
}

// landing are the numbers of notes before the landing that are tapped.
var landing = [...]int{2, 4}

func (s *Session) land() error {
	o, ok := s.m.ornament()
	if !ok {
		return s.noOrnament()
	}
	hand := handOf(o)
	from, to := s.m.around(o)
	set := s.m.tapped(hand, from, to)
	all := struck(o)
	for _, n := range landing {
		if n < all {
			s.add(Step{Act: Strike, Line: s.words().Count(n, "Only the last note and the next beat", "Only the last {n} notes and the next beat"), Settings: set,
				shape: lastNotes(n), again: true})
		}
	}
	s.add(Step{Act: Strike, Line: s.words().Count(all, "The one note and the next beat", "All {n} notes and the next beat"), Settings: set, counts: true})
	return nil
}

// insideRounds is how often the measure of the ornament comes.
const insideRounds = 3

func (s *Session) insideCount() error {
	o, ok := s.m.ornament()
	if !ok {
		return s.noOrnament()
	}
	set := s.m.tapped(handOf(o), o.Measure, o.Measure+1)
	set.Play, set.Beat, set.CountIn = round.NoHand, true, 1
	for i := range insideRounds {
		s.add(Step{Act: Strike, Line: s.say("Tap the beat, the ornament in its place: {n} of {all}", "{n}", strconv.Itoa(i+1), "{all}", strconv.Itoa(insideRounds)),
			Settings: set, shape: beatsAround, counts: true})
	}
	return nil
}

func (s *Session) alone() error {
	set := s.m.whole(s.m.Settings.Tap)
	set.Beat = false
	s.add(Step{Act: Strike, Line: s.say("One bar is counted in, then there is no help"), Settings: set, Still: true, counts: true})
	return nil
}

// piano plays the other hand and the beat until it is stopped, or listens.
func (s *Session) piano() error {
	if s.m.Heard {
		s.lead = nil // it was found for sound and taps
		s.add(s.listened())
		return nil
	}
	set := s.m.whole(round.NoHand)
	set.Play, set.Beat, set.Repeat = s.m.oneHand().Other(), true, true
	s.add(Step{Act: Loop, Line: s.say("Play the rest at the piano; stop when you are done"), Settings: set})
	return nil
}

// listened is a step that is played at an instrument and heard, each hand with
// all the keys of its chords. Where the program does not sound the other hand
// both may be played; where there is a beat it is counted in.
func (s *Session) listened() Step {
	hand := round.BothHands
	if s.m.Meanwhile == TheBeatAndHand {
		hand = s.m.oneHand()
	}
	set := s.m.tapped(hand, s.m.Settings.From, s.m.Settings.To)
	set.Keys, set.Beat = true, s.m.Meanwhile != Silence
	line := s.say(playHand[hand])
	if s.m.Meanwhile == Silence {
		set.CountIn = 0
		line = s.say("Play the chosen bars, one hand or both; press Stop at the end")
	}
	return Step{Act: Play, Line: line, Settings: set, Still: true, plain: s.m.Plain, counts: true}
}

// What is to be tapped, by the hands that tap.
//
//words:texts
var (
	tapHand   = map[round.Hands]string{round.RightHand: "Tap the right hand", round.LeftHand: "Tap the left hand", round.BothHands: "Tap both hands", round.NoHand: "Tap the right hand"}
	playHand  = map[round.Hands]string{round.RightHand: "Play the right hand with the beat, after the count-in", round.LeftHand: "Play the left hand with the beat, after the count-in", round.BothHands: "Play with the beat, after the count-in, one hand or both"}
	firstHand = map[round.Hands]string{round.RightHand: "First the right hand alone", round.LeftHand: "First the left hand alone"}
	clapHand  = map[round.Hands]string{round.RightHand: "Clap the right hand's notes", round.LeftHand: "Clap the left hand's notes"}
)
