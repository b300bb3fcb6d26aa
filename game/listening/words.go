package listening

import (
	"math"
	"strconv"

	"agremens/game/listening/ear"
	"agremens/realize/words"
)

// Trouble is why the microphone gives nothing.
type Trouble string

// Troubles, by the names that the page's script gives them.
const (
	Refused    Trouble = "refused"    // the player or the browser's settings said no
	Absent     Trouble = "absent"     // there is no microphone, or another program has it
	Unanswered Trouble = "unanswered" // the browser's question was not answered
	Unable     Trouble = "unable"     // the browser cannot listen, or the page came over plain http
	Unheard    Trouble = "unheard"    // the listener could not be loaded
	Taken      Trouble = "taken"      // the microphone went away on the way

	Broken Trouble = "broken" // the page's own sound stuttered, so the beat in it was none

	Unreadable Trouble = "unreadable" // a file is no recording
)

// Say says what happened and what to do. The round stays where it was, and
// tapping is always left.
func (t Trouble) Say(c *words.Catalogue) string {
	switch t {
	case Refused:
		return c.Say("The browser did not allow the microphone. To let the page listen, allow it beside the address and press again; or tap instead.")
	case Absent:
		return c.Say("No microphone was found, or another program uses it. Connect one or close the other program, then press again; or tap instead.")
	case Unanswered:
		return c.Say("The browser has not opened the microphone. Answer its question beside the address, then press again; or tap instead.")
	case Unable:
		return c.Say("This browser does not let the page listen here. It needs a recent browser and an address that begins with https; or tap instead.")
	case Unreadable:
		return c.Say("This file is neither a recording that the browser can read nor a MIDI file. Choose a WAV or MIDI file of up to 30 MB.")
	case Broken:
		return c.Say("The sound stuttered or stopped during the round, so the beat was not steady and nothing is judged. Close other programs and play again, or play without the beat.")
	case Taken:
		return c.Say("The microphone was switched off during the round. Only what was heard before that counts.")
	}
	return c.Say("The part of the program that listens could not be loaded. Check the connection and press again; or tap instead.")
}

// SayLevel says while one plays what is wrong with the sound and what to do,
// "" where nothing is.
func SayLevel(l ear.Level, c *words.Catalogue) string {
	switch l {
	case ear.LevelClipped:
		return c.Say("It is too loud for the microphone: move the device a little away.")
	case ear.LevelFaint:
		return c.Say("Next to nothing is heard: put the device nearer to the instrument.")
	case ear.LevelBeat:
		return c.Say("The beat is heard too: play with it.")
	case ear.LevelNoisy:
		return c.Say("Your playing does not stand out from the other sound: put the device nearer, or find a quieter moment.")
	}
	return ""
}

// tooNoisy is the level of playing above the quietest moments, dB, below which
// noise is named as the reason; faint the largest sample of playing that is
// too far away. Both from our own recordings, no source.
const (
	tooNoisy = 9.0
	faint    = 0.01
)

// Refusal says why nothing is judged and what to do, "" where something is.
func Refusal(r ear.Report, c *words.Catalogue) string {
	switch r.Reason {
	case ear.Judged:
		return ""
	case ear.Silent:
		return c.Say("Nothing was heard, so nothing is judged. Put the device nearer to the instrument, check that the microphone is not muted, and play again.")
	case ear.TooShort:
		return c.Say("Too little was heard to judge it. Play the chosen bars to their end.")
	}
	switch {
	case r.Clipped:
		return c.Say("The sound was too loud for the microphone, so nothing is judged. Move the device away from the instrument, and play again.")
	case r.Peak < faint:
		return c.Say("The instrument was too faint to judge it. Put the device nearer, and play again.")
	case r.Beat == ear.HeardBeat && r.Reason != ear.TooNoisy: // how far playing stands out is not known then
		return c.Say("The beat was heard, but not the notes of the chosen bars, so nothing is judged. Put the device nearer to the instrument or turn the beat down, and play again.")
	case r.Reason == ear.TooNoisy || r.SNR < tooNoisy:
		return c.Say("There was too much other sound to judge anything. Find a quieter moment or put the device nearer to the instrument, and play again.")
	case r.Reason == ear.OtherMusic:
		return c.Say("What was heard is not what stands in the chosen bars, so nothing is judged. Look whether the right bars are chosen and the instrument is in tune, and play again.")
	}
	return c.Say("No notes of a keyboard were heard, so nothing is judged. Put the device nearer to the instrument, and play again.")
}

// Remarks says what to know beside a judgement: what the device did to the
// sound although it was asked not to, and that only the last of several tries
// counts.
func Remarks(r ear.Report, altered bool, c *words.Catalogue) []string {
	var said []string
	if r.Hands == ear.RightHand {
		said = append(said, c.Say("Only the right hand was heard."))
	}
	if r.Hands == ear.LeftHand {
		said = append(said, c.Say("Only the left hand was heard."))
	}
	if r.Passes > 1 {
		said = append(said, c.Say("You began more than once: the last time was judged."))
	}
	switch r.Beat {
	case ear.UnheardBeat:
		said = append(said, c.Say("The microphone did not hear the beat (headphones, or the sound is off), so your notes are compared with each other. How far they were from the beat is not known, and the first or last ornament may have been later than it says here."))
	case ear.LeftBeat:
		said = append(said, c.Say("You did not keep to the beat from beginning to end, so your notes are compared with each other, not with the beat."))
	}
	if n := unsure(r); n > 0 {
		said = append(said, c.Count(n, "One note could not be heard clearly and is left out.", "{n} notes could not be heard clearly and are left out."))
	}
	if r.Clipped {
		said = append(said, c.Say("Some of it was too loud for the microphone: move the device a little away."))
	}
	if altered {
		said = append(said, c.Say("This device changes the sound it records (it takes out noise or evens the loudness), so soft notes may be missed."))
	}
	return said
}

// outOfTune is from how many cents on a tuning is told: it was found within 3 on
// our own instrument tuned from 45 below to 45 above.
const outOfTune = 8.0

// Tuning says how the instrument is tuned, "" where that is as usual or was
// said before: said is what was, in cents, 0 nothing.
func Tuning(r ear.Report, said float64, c *words.Catalogue) string {
	n := int(math.Abs(math.Round(r.Cents)))
	switch {
	case math.Abs(r.Cents) < outOfTune || math.Abs(r.Cents-said) < outOfTune:
		return ""
	case r.Cents < 0:
		return c.Say("Your instrument is tuned about {n} cents (hundredths of a semitone) below A = 440 Hz. The page allows for that; there is nothing you need to do.", "{n}", strconv.Itoa(n))
	}
	return c.Say("Your instrument is tuned about {n} cents (hundredths of a semitone) above A = 440 Hz. The page allows for that; there is nothing you need to do.", "{n}", strconv.Itoa(n))
}

func unsure(r ear.Report) int {
	n := 0
	for _, h := range r.Notes {
		if h.State == ear.Unsure {
			n++
		}
	}
	return n
}
