package calibration

import (
	"math"

	"agremens/realize/tap"
	"agremens/realize/words"
	"agremens/synth/clock"
)

// Phases in words, for whoever taps.
//
//words:texts
const (
	WordsBefore  = "It takes half a minute. First tap with every click, then with every flash. Tap the big field, or any key. Do not listen for the click and then tap: go with it, as in a march."
	WordsClicks  = "Tap with every click."
	WordsBetween = "Good. Now light instead of sound: tap with every flash."
	WordsFlashes = "Tap with every flash."
)

// InWords returns what to say while a phase runs.
func (p Phase) InWords(c *words.Catalogue) string {
	switch p {
	case Clicks:
		return c.Say(WordsClicks)
	case Between:
		return c.Say(WordsBetween)
	case Flashes:
		return c.Say(WordsFlashes)
	}
	return ""
}

// InWords says what was found and how sure it is; toldMS is the part of the
// delay that the browser told.
func (r Result) InWords(output string, toldMS float64, c *words.Catalogue) string {
	if r.Stumbled {
		return c.Say("The sound stuttered, so this measurement is not reliable. Once more?")
	}
	k, ok := Keep(output, toldMS, r)
	switch {
	case !ok && r.Sound.Used+r.Sound.Missed > 0 && r.Sound.Used < 8:
		return c.Say("There were too few taps with the clicks to tell. Once more?")
	case !ok:
		return c.Say("The taps were too far apart to tell. Once more, perhaps on a key instead of the touchscreen?")
	}
	return k.InWords(c) + " " + pictureInWords(r.Picture, c)
}

func pictureInWords(p clock.Calibration, c *words.Catalogue) string {
	if p.Trust == clock.Unknown {
		return c.Say("Too few taps matched the flashes: the picture is left as it was.")
	}
	return c.Say("The picture is about {ms} ms late.", "{ms}", c.Number(min(max(p.OffsetMS, 0), mostPictureMS), 0))
}

// InWords says what is kept of an output.
//
//words:texts
func (k Kept) InWords(c *words.Catalogue) string {
	lead := k.OffsetMS - k.ExtraMS()
	sure := "That is exact enough for judging (give or take {ms} ms)."
	if k.Trust == clock.Rough {
		sure = "That is rough: enough for a long delay, not for judging. Measure again to improve it (give or take {ms} ms)."
	}
	return c.Say("Sound is heard about {ms} ms after the program sends it; you tap {place}.",
		"{ms}", c.Number(k.ToldMS+k.ExtraMS(), 0), "{place}", besideClick(lead, c)) + " " + c.Say(sure, "{ms}", c.Number(2*k.ErrorMS, 0))
}

func besideClick(ms float64, c *words.Catalogue) string {
	switch n := math.Round(ms); {
	case n < 0:
		return c.Say("{ms} ms before it, as most people do", "{ms}", c.Number(-n, 0))
	case n > 0:
		return c.Say("{ms} ms after it", "{ms}", c.Number(n, 0))
	}
	return c.Say("with it")
}

// Hint returns a sentence when a round looks as if the delay of the output
// were wrong rather than the player, else "".
func Hint(r *tap.Result, known bool, c *words.Catalogue) string {
	if r.Spoilt != "" {
		return ""
	}
	mean, spread, n := r.MeanMS, r.SpreadMS, r.Hit
	if l := r.Lead; l.Learned() {
		mean, spread, n = l.MS, l.SE*math.Sqrt(float64(l.N)), l.N
	}
	if !clock.LooksWrong(mean, spread, n) {
		return ""
	}
	text := c.Say("All taps are late by the same {ms} ms.", "{ms}", c.Number(mean, 0))
	if mean < 0 {
		text = c.Say("All taps are early by the same {ms} ms.", "{ms}", c.Number(-mean, 0))
	}
	if known {
		return text + " " + c.Say("That looks like the sound's own delay: did the output change? ···, Sound, measures it again.")
	}
	return text + " " + c.Say("That looks like the sound's own delay, as wireless headphones have: ···, Sound, measures it in half a minute.")
}
