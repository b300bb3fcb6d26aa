package week

import (
	"math"
	"strconv"
	"strings"

	"agremens/realize/words"
)

// The first day of 1970 was a Thursday.
const thursday = 3

// Weekdays are the days of the week, from Monday.
//
//words:texts
var Weekdays = [Length]string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}

//words:texts in:weekday
var shortNames = [Length]string{"Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"}

// weekday is that of the i-th day, 0 for Monday.
func (w Week) weekday(i int) int {
	return ((w.Last-Length+1+i+thursday)%Length + Length) % Length
}

func beats(tempo float64) string { return strconv.Itoa(int(math.Round(tempo))) }

// Text says what the picture shows, day by day; "" where nothing was done.
func (w Week) Text(c *words.Catalogue) string {
	if w.Empty() {
		return ""
	}
	var lines []string
	for i, d := range w.Days {
		if said := w.day(i, d, c); said != "" {
			lines = append(lines, c.Say("{day}: {what}", "{day}", c.Say(Weekdays[w.weekday(i)]), "{what}", said))
		}
	}
	text := strings.Join(lines, "; ") + "."
	if w.Goal > 0 {
		text += " " + c.Say("The goal is {tempo} beats per minute.", "{tempo}", beats(w.Goal))
	}
	return text
}

// day says what was done on one day, "" where nothing is to be said.
func (w Week) day(i int, d Day, c *words.Catalogue) string {
	switch {
	case d.Played > 0: // the real thing comes first
		return c.Say("clean at the piano at {tempo}", "{tempo}", beats(d.Played))
	case d.Clean > 0:
		return c.Say("clean at {tempo}", "{tempo}", beats(d.Clean))
	case d.Tried > 0:
		return c.Say("tried at {tempo}, not clean yet", "{tempo}", beats(d.Tried))
	case d.Minutes > 0:
		return c.Say("the plain notes")
	case d.Piano > 0:
		return c.Say("at the piano")
	case d.Before, w.Open && i == Length-1:
		return ""
	}
	return c.Say("a rest")
}

// Compare is one sentence: the latest clean tempo of the week, and the first
// one beside it. It says what was, not that anything has become better: two
// days are too few for that. "" where no round was tapped.
func (w Week) Compare(c *words.Catalogue) string {
	first, latest, tried := -1, -1, false
	for i, d := range w.Days {
		tried = tried || d.tempo() > 0
		if d.Clean == 0 {
			continue
		}
		if first < 0 {
			first = i
		}
		latest = i
	}
	switch {
	case !tried:
		return ""
	case first < 0:
		return c.Say("No clean round this week yet: slower is allowed.")
	}
	now, then := w.Days[latest].Clean, w.Days[first].Clean
	text := w.when(latest, now, c)
	switch {
	case first == latest:
	case math.Round(now) == math.Round(then):
		text = c.Say("{now}, as on {day}", "{now}", text, "{day}", c.Say(Weekdays[w.weekday(first)]))
	default:
		text = c.Say("{now}; on {day} it was {then}", "{now}", text, "{day}", c.Say(Weekdays[w.weekday(first)]), "{then}", beats(then))
	}
	text += "."
	if w.Goal > 0 && math.Round(now) >= math.Round(w.Goal) {
		text += " " + c.Say("That is the goal.")
	}
	return text
}

// when says at which tempo a day was clean: the last one without its name.
func (w Week) when(i int, tempo float64, c *words.Catalogue) string {
	if i == Length-1 {
		return c.Say("Clean at {tempo} today", "{tempo}", beats(tempo))
	}
	return c.Say("Clean at {tempo} on {day}", "{tempo}", beats(tempo), "{day}", c.Say(Weekdays[w.weekday(i)]))
}
