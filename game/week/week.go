// Package week is a week of practice as a picture: one small staff with a
// column for each of seven days, the last one the day on which it is looked at.
//
// A day's note stands as high as the tempo at which a round was clean, filled;
// where none was, a hollow note stands at the fastest tempo that was tried. A
// day at the piano alone is a note without a stem. A day without practice is a
// rest, unless it lies before the first one or is not over. A dashed line is
// the goal.
//
// It is pure: [Of] takes the log of the device, [FromReport] a report that came
// back, and both give the same picture of the same days. [Week.SVG] draws it,
// [Week.Text] says all of it to whoever does not see it, [Week.Compare] is the
// one comparison that stands beside it.
package week

import (
	"math"

	"agremens/game/diary"
	"agremens/realize/codec/packet"
)

// Length is how many days a picture has.
const Length = 7

// Day is what was done on one day.
type Day struct {
	// Clean is the fastest tempo at which a round with its ornaments was clean,
	// Tried the fastest at which one was tapped, in felt beats a minute; 0 none.
	Clean, Tried float64
	// Played is the fastest tempo at which one was clean at the instrument
	// itself, as far as the page listened.
	Played float64
	// Minutes tapped, and at the piano as told.
	Minutes, Piano int
	// Before says that it lies before the first day of practice.
	Before bool
}

// Practised reports whether anything was done.
func (d Day) Practised() bool { return d.Tried > 0 || d.Minutes > 0 || d.Piano > 0 }

// Week is seven days in a row.
type Week struct {
	Days [Length]Day // the oldest first
	Last int         // the last of them, in days since 1 January 1970
	Goal float64     // felt beats a minute, 0 unknown
	// Open says that the last day is not over: nothing done so far is no rest.
	Open bool

	from float64 // of a week to fill in: the tempo of its lowest line, else 0
}

// sundayDay is a Sunday, so that a week on paper begins on Monday.
const sundayDay = 3

// ToFill returns an empty week for paper, to be filled in with a pencil: from a
// first tempo up to the goal, in felt beats a minute.
func ToFill(from, goal float64) Week {
	w := Week{Last: sundayDay, Goal: goal, Open: true, from: min(from, goal)}
	for i := range w.Days {
		w.Days[i].Before = true
	}
	return w
}

// Of returns the week up to a day of what one player has in a diary; passage
// narrows it to one passage, "" takes all. goal is in felt beats a minute; 0
// takes that of the latest round.
func Of(d *diary.Diary, player, passage string, last int, goal float64) Week {
	b := builder{Week: Week{Last: last, Goal: goal}, first: math.MaxInt}
	var seconds [Length]int
	for _, r := range d.Rounds {
		if r.Void || r.Player != player || passage != "" && r.Passage != passage {
			continue
		}
		day := b.on(r.Day)
		if day == nil {
			continue
		}
		seconds[r.Day-last+Length-1] += r.Seconds
		day.Minutes = (seconds[r.Day-last+Length-1] + 59) / 60
		if r.Plain {
			continue
		}
		day.Tried = max(day.Tried, r.Beats)
		if r.Clean {
			day.Clean = max(day.Clean, r.Beats)
			if r.AtInstrument() {
				day.Played = max(day.Played, r.Beats)
			}
		}
		if goal == 0 {
			b.Goal = r.Goal
		}
	}
	for _, p := range d.Pianos {
		if p.Player == player && (passage == "" || p.Passage == passage) {
			if day := b.on(p.Day); day != nil {
				day.Piano += p.Minutes
			}
		}
	}
	return b.done()
}

// FromReport returns the week of a report up to a day; last 0 is the report's
// last day. What a report has of a day without a clean round is its first one.
func FromReport(r packet.Report, last int) Week {
	if last == 0 && len(r.Days) > 0 {
		last, _ = diary.DayOf(r.Days[len(r.Days)-1].Date)
	}
	b := builder{Week: Week{Last: last, Goal: r.Goal}, first: math.MaxInt}
	for _, told := range r.Days {
		n, ok := diary.DayOf(told.Date)
		if !ok {
			continue
		}
		if day := b.on(n); day != nil {
			day.Clean = max(day.Clean, told.Reached)
			day.Played = max(day.Played, told.Played)
			day.Tried = max(day.Tried, told.ColdTempo, told.Reached)
			day.Minutes += told.Tapped
			day.Piano += told.Piano
		}
	}
	return b.done()
}

// builder fills in a week.
type builder struct {
	Week
	first int // day of practice
}

// on returns a day of the week, nil for another one.
func (b *builder) on(day int) *Day {
	if day > b.Last {
		return nil
	}
	b.first = min(b.first, day)
	if i := day - b.Last + Length - 1; i >= 0 {
		return &b.Days[i]
	}
	return nil
}

func (b *builder) done() Week {
	for i := range b.Days {
		b.Days[i].Before = b.Last-Length+1+i < b.first
	}
	return b.Week
}

// Empty reports whether nothing was done all week.
func (w Week) Empty() bool {
	for _, d := range w.Days {
		if d.Practised() {
			return false
		}
	}
	return true
}

// Minutes returns the minutes of the week, tapped and at the piano.
func (w Week) Minutes() (tapped, piano int) {
	for _, d := range w.Days {
		tapped, piano = tapped+d.Minutes, piano+d.Piano
	}
	return tapped, piano
}

// Practised returns on how many days anything was done.
func (w Week) Practised() (days int) {
	for _, d := range w.Days {
		if d.Practised() {
			days++
		}
	}
	return days
}
