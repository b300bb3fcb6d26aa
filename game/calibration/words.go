package calibration

import (
	"fmt"
	"math"

	"agremens/realize/tap"
	"agremens/synth/clock"
)

// Phases in words, for whoever taps.
const (
	WordsBefore  = "It takes half a minute. First tap with every click, then with every flash. Tap the big field, or any key. Do not listen for the click and then tap: go with it, as in a march."
	WordsClicks  = "Tap with every click."
	WordsBetween = "Good. Now comes light instead of sound: tap with every flash."
	WordsFlashes = "Tap with every flash."
)

// InWords returns what to say while a phase runs.
func (p Phase) InWords() string {
	switch p {
	case Clicks:
		return WordsClicks
	case Between:
		return WordsBetween
	case Flashes:
		return WordsFlashes
	}
	return ""
}

// InWords says what was found and how sure it is; toldMS is the part of the
// delay that the browser told.
func (r Result) InWords(output string, toldMS float64) string {
	if r.Stumbled {
		return "The sound stumbled on its way, so this cannot be trusted. Once more?"
	}
	k, ok := Keep(output, toldMS, r)
	switch {
	case !ok && r.Sound.Used+r.Sound.Missed > 0 && r.Sound.Used < 8:
		return "There were too few taps with the clicks to tell. Once more?"
	case !ok:
		return "The taps were too far apart to tell. Once more, perhaps on a key instead of the glass?"
	}
	return k.InWords() + " " + pictureInWords(r.Picture)
}

func pictureInWords(c clock.Calibration) string {
	if c.Trust == clock.Unknown {
		return "With the flashes there were too few taps together: the picture stays as it is."
	}
	return fmt.Sprintf("The picture comes about %.0f ms late.", min(max(c.OffsetMS, 0), mostPictureMS))
}

// InWords says what is kept of an output.
func (k Kept) InWords() string {
	lead := k.OffsetMS - k.ExtraMS()
	sure := "That is sure enough to judge by"
	if k.Trust == clock.Rough {
		sure = "That is rough: good for a long delay, not to judge by. Measure again for more"
	}
	return fmt.Sprintf("Sound is heard about %.0f ms after the program sends it; your taps come %s. %s (give or take %.0f ms).",
		k.ToldMS+k.ExtraMS(), besideClick(lead), sure, 2*k.ErrorMS)
}

func besideClick(ms float64) string {
	switch n := math.Round(ms); {
	case n < 0:
		return fmt.Sprintf("%.0f ms before it, as most people's do", -n)
	case n > 0:
		return fmt.Sprintf("%.0f ms after it", n)
	}
	return "with it"
}

// Hint returns a sentence when a round looks as if the delay of the output
// were wrong rather than the player, else "".
func Hint(r *tap.Result, known bool) string {
	mean, spread, n := r.MeanMS, r.SpreadMS, r.Hit
	if l := r.Lead; l.From == "plain" {
		mean, spread, n = l.MS, l.SE*math.Sqrt(float64(l.N)), l.N
	}
	if !clock.LooksWrong(mean, spread, n) {
		return ""
	}
	side := "late"
	if mean < 0 {
		side = "early"
	}
	if known {
		return fmt.Sprintf("All taps are %s by the same %.0f ms. That looks like the sound's own delay: did the output change? More, Sound, measures it again.", side, math.Abs(mean))
	}
	return fmt.Sprintf("All taps are %s by the same %.0f ms. That looks like the sound's own delay, as wireless headphones have: More, Sound, measures it in half a minute.", side, math.Abs(mean))
}
