// Package day is the order of a day's practice: the kinds of round that a
// teacher asks for, in her order, or ten minutes of listening, the plain notes,
// the ornaments, without help and at the piano; and an end. It leads and
// forces nothing: after one round of a step the next may follow, and the end
// is always at hand. Days on which nobody practised are not its business.
//
// It is pure; the page says what happened and shows what comes.
package day

import (
	"strconv"
	"strings"

	"agremens/realize/words"
)

// Key names a step.
type Key string

// Steps of a day, in order. End is its last page.
const (
	Listen   Key = "listen"
	Plain    Key = "plain"
	Ornament Key = "ornament"
	Unaided  Key = "unaided"
	Piano    Key = "piano"
	End      Key = "end"
)

// Step is one part of the ten minutes.
type Step struct {
	Key     Key
	Name    string
	Deed    string // what the button says
	Ask     string // what is to be done, in a sentence
	Minutes int    // about how long
}

//words:texts
var steps = [...]Step{
	{Listen, "Listen", "Listen", "Hear it once or twice. Where does the ornament's first note meet the other hand?", 1},
	{Plain, "Plain notes", "Tap the plain notes", "The notes without their ornaments, against the other hand.", 2},
	{Ornament, "With ornaments", "Tap with ornaments", "Now with the ornaments. Slower is right, if it makes their notes even.", 4},
	{Unaided, "Without help", "Tap without help", "One round without clicks and without the moving line. It shows what stays.", 1},
	{Piano, "At the piano", "Play at the piano", "Play and let the page listen, or play to the other hand and the beat, without a judgement. Press Stop when you are done.", 2},
	{End, "The end", "", "", 0},
}

// Steps returns the ten minutes' steps in order, the end included.
func Steps() []Step { return append([]Step(nil), steps[:]...) }

// Day is how far someone is today. The zero value is no day at all; [Start]
// and [Along] begin one.
type Day struct {
	On      bool
	Path    string // keys of kinds of round, parted by spaces; "" the ten minutes
	Step    int
	Tried   bool // the step has had a round
	Rounds  int  // of tapping, in the step
	Clean   int  // of these
	Seconds int  // of rounds, in the step
	All     int  // seconds of rounds today
}

// Start begins a day of ten minutes.
func Start() Day { return Day{On: true} }

// Current returns the step at hand.
func (d Day) Current() Step { return d.at(d.Step) }

func (d Day) at(i int) Step {
	all := d.Steps()
	return all[min(max(i, 0), len(all)-1)]
}

// Over reports whether the last page is reached.
func (d Day) Over() bool { return d.On && d.Current().Key == End }

// Next goes on to the next step.
func (d Day) Next() Day {
	if !d.On || d.Over() {
		return d
	}
	return d.to(d.Step + 1)
}

// Finish goes to the last page.
func (d Day) Finish() Day { return d.to(len(d.Steps()) - 1) }

func (d Day) to(step int) Day { return Day{On: d.On, Path: d.Path, Step: step, All: d.All} }

// Done is what a round was.
type Done struct {
	Kind    string // key of its kind, "" where only the desk was heard
	Tapped  bool   // else only heard, or played at the piano
	Plain   bool   // without ornaments
	Unaided bool
	Piano   bool
	Clean   bool
	Spoilt  bool // does not count, but took its time
	Seconds int
}

// After returns the day after a round. A round that belongs to another step
// counts as time and not for the step.
func (d Day) After(r Done) Day {
	if !d.On || d.Over() {
		return d
	}
	d.All += max(0, r.Seconds)
	if r.Spoilt {
		return d
	}
	if !d.fits(r) {
		later := d.later(r)
		if later == 0 {
			return d
		}
		d = d.to(later)
	}
	d.Tried = true
	d.Seconds += max(0, r.Seconds)
	if r.Tapped {
		d.Rounds++
		if r.Clean {
			d.Clean++
		}
	}
	return d
}

func (d Day) fits(r Done) bool {
	switch key := d.Current().Key; key {
	case Listen:
		return !r.Tapped && !r.Piano
	case Plain:
		return r.Tapped && r.Plain
	case Ornament:
		return r.Tapped && !r.Plain
	case Unaided:
		return r.Tapped && r.Unaided
	case Piano:
		return r.Piano
	default:
		return key != End && string(key) == r.Kind
	}
}

// enough is how many clean rounds call for the next step.
const enough = 2

// Button returns what the one button says: the step's own deed, and after a
// round of it the way on.
func (d Day) Button(c *words.Catalogue) string {
	switch {
	case !d.On || d.Over():
		return ""
	case !d.Tried:
		return c.Say(d.Current().Deed)
	case d.at(d.Step+1).Key == End:
		return c.Say("To the end of today")
	}
	return c.Say("Next: {step}", "{step}", inside(c, d.at(d.Step+1).Name))
}

// Line says where one is and what is asked: "2 of 5. The notes without …".
func (d Day) Line(c *words.Catalogue) string {
	if !d.On || d.Over() {
		return ""
	}
	text := c.Say("{n} of {all}, {step}.", "{n}", strconv.Itoa(d.Step+1), "{all}", strconv.Itoa(len(d.Steps())-1), "{step}", inside(c, d.Current().Name)) + " "
	switch {
	case !d.Tried:
		return text + c.Say(d.Current().Ask)
	case d.Clean >= enough:
		return text + c.Say("Two clean rounds: go on.")
	case d.Seconds >= 60*d.Current().Minutes:
		return text + c.Say("That is enough of this for today: go on.")
	case d.Rounds > 0:
		return text + c.Say("Again if you like, or go on.")
	}
	return text + c.Say("Once more if you like, or go on.")
}

// inside says a name inside a sentence, where English writes it small.
func inside(c *words.Catalogue, name string) string {
	if c.Language() == "en" {
		return strings.ToLower(name[:1]) + name[1:]
	}
	return c.Say(name)
}

// Minutes returns how long rounds lasted today, in minutes begun.
func (d Day) Minutes() int { return (d.All + 59) / 60 }
