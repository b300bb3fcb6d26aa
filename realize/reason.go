package realize

import (
	"strconv"
	"strings"

	"agremens/realize/music"
)

// ReasonWords is the most words a reason has.
const ReasonWords = 60

// spoken names a pitch as the player calls it.
func (pl *place) spoken(p music.Pitch) string { return pl.r.taste.Naming.Name(p) }

// reason fills a rule's sentence with what the place holds.
func (pl *place) reason(c *candidate, sh *shape, notes []Note) string {
	text := c.why
	if strings.Contains(text, "{") {
		prev, next, bass, against := "the note before", "the next note", "the bass", "an interval"
		if pl.prev != nil {
			prev = pl.spoken(*pl.prev)
		}
		if pl.next != nil {
			next = pl.spoken(*pl.next)
		}
		if pl.bass != nil {
			bass, against = pl.spoken(*pl.bass), pl.against
		}
		low := pl.lower
		if sh.raised && pl.raised != nil {
			low = *pl.raised
		}
		name := pl.r.trad.names[pl.figure]
		if name == "" {
			name = "ornament"
		}
		text = strings.NewReplacer("{0}", pl.spoken(pl.pitch), "{+1}", pl.spoken(pl.upper), "{-1}", pl.spoken(low),
			"{prev}", prev, "{next}", next, "{bass}", bass, "{against}", against,
			"{n}", strconv.Itoa(len(notes)), "{name}", name).Replace(text)
	}
	return text
}

// fits adds a sentence to a reason that has room for it.
func fits(reason *string, sentence string) bool {
	if sentence == "" || len(strings.Fields(*reason+" "+sentence)) > ReasonWords {
		return false
	}
	*reason += " " + sentence
	return true
}

// meetings says which note of the other hand each note of a turn or short
// trill meets, and which of them falls into a held note.
func (pl *place) meetings(sh *shape, notes []Note) string {
	if pl.grid.IsZero() || sh.time == shake || len(notes) < 3 || len(notes) > 6 || !touchesLower(sh) && sh.time != snap {
		return ""
	}
	kind := "note"
	if pl.grid.Den()%3 == 0 {
		kind = "triplet note"
	}
	ordinal := []string{"first", "second", "third", "fourth", "fifth", "sixth"}
	var parts []string
	for k := 1; k < len(ordinal) && len(parts) < 2; k++ {
		at := pl.grid.Mul(music.Int(int64(k)))
		for i := range notes {
			switch {
			case notes[i].Onset == at:
				parts = append(parts, "its "+ordinal[i]+" note, "+pl.spoken(notes[i].Pitch)+", meets the other hand's "+ordinal[k]+" "+kind)
			case notes[i].Onset.Less(at) && at.Less(notes[i].Onset.Add(notes[i].Dur)):
				parts = append(parts, "the other hand's "+ordinal[k]+" "+kind+" falls in the "+pl.spoken(notes[i].Pitch))
			}
		}
	}
	if len(parts) == 0 {
		return ""
	}
	text := strings.Join(parts, "; ")
	return strings.ToUpper(text[:1]) + text[1:] + "."
}

// clip keeps the first words of a text, to the end of the last whole sentence.
func clip(text string, most int) string {
	words := strings.Fields(text)
	if len(words) <= most {
		return text
	}
	short := strings.Join(words[:most], " ")
	if i := strings.LastIndexAny(short, ".;:"); i > 0 {
		return short[:i] + "."
	}
	return short
}
