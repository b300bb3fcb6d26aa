package desk

import (
	"strconv"
	"strings"

	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/words"
)

// SignWords is what the page says of the selected ornament.
type SignWords struct {
	Heading string // "Bar 3, mordent"
	Notes   string // "C–B–C, on the beat"
	Why     string
	Sources []string
	Notices []string // warnings of the chosen choice
	Choices []ChoiceWords
	Place   string // "2 of 5"
}

// ChoiceWords is one choice as a button.
type ChoiceWords struct {
	Label, Detail string
	Chosen        bool
}

// Sign returns the words for the selected ornament; ok is false where none is
// selected.
func (d *Desk) Sign() (SignWords, bool) {
	o, ok := d.Ornament()
	if !ok {
		return SignWords{}, false
	}
	c := &o.Choices[o.Chosen]
	w := SignWords{
		Heading: d.Words.Say("Bar {bar}, {choice}", "{bar}", d.Passage.Measures[o.Measure].Number, "{choice}", c.Name),
		Notes:   NotesInWords(c) + ", " + PlaceInWords(c),
		Why:     c.Reason,
		Notices: c.Warnings,
	}
	inside := d.Inside()
	for k, i := range inside {
		if i == d.Selected {
			w.Place = d.Words.Say("{n} of {all}", "{n}", strconv.Itoa(k+1), "{all}", strconv.Itoa(len(inside)))
		}
	}
	for _, s := range c.Sources {
		if c.Key == realize.OwnKey { // there is nothing to check one's own against
			w.Sources = append(w.Sources, s.Text)
			continue
		}
		w.Sources = append(w.Sources, SourceInWords(d.Words, s))
	}
	for i := range o.Choices {
		w.Choices = append(w.Choices, ChoiceWords{
			Label:  o.Choices[i].Name,
			Detail: NotesInWords(&o.Choices[i]),
			Chosen: i == o.Chosen,
		})
	}
	return w, true
}

//words:texts
var statusWords = map[realize.Status]string{
	realize.StatusRead:     "read in the source",
	realize.StatusReported: "reported by a later writer",
	realize.CommonPractice: "common practice",
	realize.StatusMeasured: "measured in recordings",
	realize.StatusMemory:   "from memory, not checked",
}

// SourceInWords names a source and how it is known; common practice says so
// itself.
func SourceInWords(c *words.Catalogue, s realize.Source) string {
	if s.Status == realize.CommonPractice {
		return s.Text
	}
	return s.Text + " (" + c.Say(statusWords[s.Status]) + ")"
}

// longest list of notes that is spelled out in full.
const spelledOut = 9

// NotesInWords spells a choice's notes: "C–B–C"; a long trill is shortened.
func NotesInWords(c *realize.Choice) string {
	var names []string
	for _, n := range c.Notes {
		name := c.Naming.Name(n.Pitch)
		if n.Tied {
			name = "(" + name + ")"
		}
		names = append(names, name)
	}
	if len(names) > spelledOut {
		names = append(append(append([]string{}, names[:4]...), "…"), names[len(names)-4:]...)
	}
	return strings.Join(names, "–")
}

// PlaceInWords says how a choice stands to the beat: "on the beat".
func PlaceInWords(c *realize.Choice) string {
	if len(c.Notes) > 0 && c.Notes[0].Onset.Sign() < 0 {
		return c.Words.Say("beginning before the beat")
	}
	if len(c.Notes) > 0 && c.Notes[0].Tied {
		return c.Words.Say("tied over, not struck on the beat")
	}
	return c.Words.Say("on the beat")
}

// BeatWord names the felt beat for a tempo: "♩" or "♩.", in words where the
// page's letters have no such note.
func (d *Desk) BeatWord() string {
	beat, dot := d.beatNote()
	switch beat {
	case music.Int(2):
		if dot != "" {
			return d.Words.In("beat", "dotted half note")
		}
		return d.Words.In("beat", "half note")
	case music.F(1, 2):
		return "♪" + dot
	case music.F(1, 4):
		return d.Words.In("beat", "sixteenth") + dot
	}
	return "♩" + dot
}

// BeatsWord is BeatWord for more than one.
func (d *Desk) BeatsWord() string {
	beat, dot := d.beatNote()
	switch {
	case beat == music.Int(2) && dot != "":
		return d.Words.In("beat", "dotted half notes")
	case beat == music.Int(2):
		return d.Words.In("beat", "half notes")
	case beat == music.F(1, 4):
		return d.Words.In("beat", "sixteenths") + dot
	}
	return d.BeatWord()
}

// beatNote is the felt beat in quarters without its dot, and the dot.
func (d *Desk) beatNote() (music.Frac, string) {
	m := d.metre()
	if m.Compound() {
		return m.Beat().Mul(music.F(2, 3)), "."
	}
	return m.Beat(), ""
}

func known(tradition string) bool {
	for _, t := range realize.Traditions() {
		if t.Key == tradition {
			return true
		}
	}
	return tradition == ""
}

// InWords tells a screen reader what the staff shows: the measures, key,
// metre and tempo, and every ornament with what is played.
func (d *Desk) InWords() string {
	m := d.Passage.Measures[d.From]
	var b strings.Builder
	c := d.Words
	b.WriteString(c.Say("Bars {bars}, {metre} time, {key}, {beat} = {tempo}.", "{bars}", d.Bars(), "{metre}", m.Metre.String(),
		"{key}", d.signatureInWords(m.Key), "{beat}", d.BeatWord(), "{tempo}", c.Number(d.Goal(), 0)))
	inside := d.Inside()
	if len(inside) == 0 {
		b.WriteString(" " + c.Say("No ornaments."))
	}
	for _, i := range inside {
		o := &d.Reading.Ornaments[i]
		taken := &o.Choices[o.Chosen]
		b.WriteString(" " + c.Say("Bar {bar}, {hand}, on {note}: {choice}, {notes}.", "{bar}", d.Passage.Measures[o.Measure].Number,
			"{hand}", HandInWords(c, o.Staff), "{note}", d.Naming.Name(o.Principal), "{choice}", taken.Name, "{notes}", NotesInWords(taken)))
	}
	return b.String()
}

// HandInWords names the hand of a staff.
func HandInWords(c *words.Catalogue, staff int) string {
	if staff == 2 {
		return c.Say("left hand")
	}
	return c.Say("right hand")
}

// MinorTonic writes the tonic of a minor key, small where the language does.
func MinorTonic(name string, c *words.Catalogue) string {
	if c.Language() == "de" {
		return strings.ToLower(name)
	}
	return name
}

func (d *Desk) signatureInWords(k music.Key) string {
	step, alter := k.Tonic()
	tonic := d.Naming.Name(music.Pitch{Step: step, Alter: int8(alter)})
	switch n := int(k.Fifths); {
	case k.Mode == music.Major:
		return d.Words.Say("{tonic} major", "{tonic}", tonic)
	case k.Mode == music.Minor:
		return d.Words.Say("{tonic} minor", "{tonic}", MinorTonic(tonic, d.Words))
	case n > 0:
		return d.Words.Count(n, "one sharp", "{n} sharps")
	case n < 0:
		return d.Words.Count(-n, "one flat", "{n} flats")
	}
	return d.Words.Say("no sharps or flats")
}
