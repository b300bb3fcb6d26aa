package realize

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"agremens/realize/music"
	"agremens/realize/words"
)

// ReasonWords is the most words a reason has.
const ReasonWords = 60

// spoken names a pitch as the player calls it.
func (pl *place) spoken(p music.Pitch) string { return pl.r.taste.Naming.Name(p) }

// reason fills a rule's sentence with what the place holds.
func (pl *place) reason(c *candidate, sh *shape) string {
	text := pl.say(c.why)
	if strings.Contains(text, "{") {
		prev, next, bass, against := pl.say("the note before"), pl.say("the next note"), pl.say("the bass"), pl.in("interval", "dissonance")
		if pl.prev != nil {
			prev = pl.spoken(*pl.prev)
		}
		if pl.next != nil {
			next = pl.spoken(*pl.next)
		}
		if pl.bass != nil {
			bass, against = pl.spoken(*pl.bass), pl.in("interval", pl.against)
		}
		low := pl.lower
		if sh.raised && pl.raised != nil {
			low = *pl.raised
		}
		text = words.Fill(text, "{0}", pl.spoken(pl.pitch), "{+1}", pl.spoken(pl.upper), "{-1}", pl.spoken(low),
			"{prev}", prev, "{next}", next, "{bass}", bass, "{against}", against)
	}
	return capital(text)
}

// fits adds a sentence to a reason that has room for it.
func fits(reason *string, sentence string) bool {
	if sentence == "" || len(strings.Fields(*reason+" "+sentence)) > ReasonWords {
		return false
	}
	*reason += " " + sentence
	return true
}

// ordinals count the notes of a figure.
//
//words:texts in:ordinal
var ordinals = [...]string{"first", "second", "third", "fourth", "fifth", "sixth"}

// meetings says which note of the other hand each note of a turn or short
// trill meets, and which of them falls into a held note.
//
//words:texts
func (pl *place) meetings(sh *shape, notes []Note) string {
	if pl.grid.IsZero() || sh.time == shake || len(notes) < 3 || len(notes) > 6 || !touchesLower(sh) && sh.time != snap {
		return ""
	}
	meets, falls := "Its {nth} note, {pitch}, falls with the other hand's {kth} note.", "The other hand's {kth} note comes during the {pitch}."
	if pl.grid.Den()%3 == 0 {
		meets, falls = "Its {nth} note, {pitch}, falls with the other hand's {kth} triplet note.", "The other hand's {kth} triplet note comes during the {pitch}."
	}
	var parts []string
	for k := 1; k < len(ordinals) && len(parts) < 2; k++ {
		at := pl.grid.Mul(music.Int(int64(k)))
		for i := range notes {
			switch {
			case notes[i].Onset == at:
				parts = append(parts, pl.say(meets, "{nth}", pl.in("ordinal", ordinals[i]), "{pitch}", pl.spoken(notes[i].Pitch), "{kth}", pl.in("ordinal", ordinals[k])))
			case notes[i].Onset.Less(at) && at.Less(notes[i].Onset.Add(notes[i].Dur)):
				parts = append(parts, pl.say(falls, "{kth}", pl.in("ordinal", ordinals[k]), "{pitch}", pl.spoken(notes[i].Pitch)))
			}
		}
	}
	return strings.Join(parts, " ")
}

// clip keeps the first words of a text, to the end of the last whole sentence.
func clip(text string, most int) string {
	words := strings.Fields(text)
	if len(words) <= most {
		return text
	}
	short := strings.Join(words[:most], " ")
	// A sentence ends after a small letter, a figure or a bracket: "C.P.E. Bach"
	// is no end, and what a colon announces does not stand alone.
	for i := len(short) - 1; i > 0; i-- {
		before := rune(short[i-1])
		if strings.IndexByte(".;", short[i]) >= 0 && (before == ')' || unicode.IsLower(before) || unicode.IsDigit(before) || before >= utf8.RuneSelf) && (i+1 == len(short) || short[i+1] == ' ') {
			return short[:i] + "."
		}
	}
	return short
}
