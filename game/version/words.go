package version

import (
	"strconv"
	"strings"

	"agremens/realize/takedown"
	"agremens/realize/words"
)

// Nothing says that no take had a note of the ornament, and what to do.
func Nothing(c *words.Catalogue) string {
	return c.Say("No note of this ornament was heard. Play it again with the hand that has it, and with the notes before and after it.")
}

// Words says how what was played in so many takes was understood, and what is
// not certain about it.
func Words(v takedown.Version, takes int, c *words.Catalogue) string {
	n := 0
	for _, x := range v.Notes {
		if !x.HeldOver {
			n++
		}
	}
	said := []string{c.Count(n, "One note was heard and is written above.", "{n} notes were heard and are written above.")}
	if takes > 1 {
		said = append(said, c.Say("The notes of {m} out of {n} times agree.", "{n}", strconv.Itoa(takes), "{m}", strconv.Itoa(v.Alike)))
	}
	if v.Notes[0].HeldOver {
		said = append(said, c.Say("Nothing was struck on the beat: the note before is held over."))
	}
	if v.Alone {
		said = append(said, c.Say("The notes around it were not heard, so its first note is taken for the beat. If it comes before the beat, press “earlier”, or play the notes around it too."))
	}
	if v.Free {
		said = append(said, c.Say("It came too unevenly for a simple rhythm, so the rhythm is only near to it."))
	}
	return strings.Join(said, " ")
}
