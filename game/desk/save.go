package desk

import (
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"agremens/realize"
	"agremens/realize/score"
)

// Save writes the settings and decisions of the desk as lines of "name value",
// so that a reload at any moment finds everything again. The passage itself
// is kept by whoever opened it.
func (d *Desk) Save() string {
	var b strings.Builder
	line := func(name, value string) { fmt.Fprintf(&b, "%s %s\n", name, url.QueryEscape(value)) }
	line("version", "1")
	line("passage", d.ID)
	line("bars", d.Bars())
	line("percent", strconv.FormatFloat(d.Percent, 'g', 6, 64))
	line("hand", HandWord(d.Tap))
	if d.HearSet {
		line("hear", HandWord(d.Hear))
	}
	if d.InstrumentSet {
		line("instrument", d.Instrument)
	}
	line("tuning", d.Temperament)
	line("pitch", strconv.FormatFloat(d.Pitch, 'g', 6, 64))
	line("countin", strconv.Itoa(d.CountIn))
	line("beat", strconv.FormatBool(d.Beat))
	line("repeat", strconv.FormatBool(d.Repeat))
	line("follow", FollowWord(d.Follow))
	line("ornaments", strconv.FormatBool(d.Ornaments))
	line("even", strconv.FormatBool(d.Even))
	line("decisions", d.Taste.Text())
	line("selected", strconv.Itoa(d.Selected))
	line("note", string(d.Note))
	d.past.save(line)
	for _, id := range slices.Sorted(maps.Keys(d.Closed)) {
		line("closed", string(id))
	}
	return b.String()
}

// SavedPassage returns the passage id that a saved desk names, "" for none.
func SavedPassage(saved string) string {
	id := ""
	eachLine(saved, func(name, value string) {
		if name == "passage" {
			id = value
		}
	})
	return id
}

// SavedWork returns what bars a saved desk has chosen and how many signs are
// decided on it.
func SavedWork(saved string) (bars string, decided int) {
	eachLine(saved, func(name, value string) {
		switch name {
		case "bars":
			bars = value
		case "decisions":
			if t, err := realize.ParseTaste(value); err == nil {
				decided = decidedIn(t)
			}
		}
	})
	return bars, decided
}

// Restore brings settings and decisions back. What it does not understand it
// leaves out: an older program may have written it.
func (d *Desk) Restore(saved string) { d.RestoreFor(0, saved, nil) }

// RestoreFor is [Desk.Restore] for a player of whom the notes a second are
// known, whatever rate was saved; 0 leaves that. It calls yield while it reads
// a long score; yield may be nil.
func (d *Desk) RestoreFor(rate float64, saved string, yield func()) {
	var note score.ID
	var past keptPast
	closed := map[score.ID]bool{}
	selected := d.Selected
	d.HearSet, d.InstrumentSet = false, false // a desk that says nothing of them was saved without
	eachLine(saved, func(name, value string) {
		number, _ := strconv.ParseFloat(value, 64)
		switch name {
		case "bars":
			_ = d.SetBars(value)
		case "percent":
			d.SetPercent(number)
		case "hand":
			if h, ok := ParseHand(value); ok {
				d.Tap = h
			}
		case "hear":
			if h, ok := ParseHand(value); ok {
				d.Hear, d.HearSet = h, true
			}
		case "instrument":
			d.SetInstrument(value)
		case "tuning":
			_ = d.SetTemperament(value)
		case "pitch":
			_ = d.SetPitch(number)
		case "countin":
			d.CountIn = min(2, max(0, int(number)))
		case "beat":
			d.Beat = value == "true"
		case "repeat":
			d.Repeat = value == "true"
		case "follow":
			d.Follow, _ = ParseFollow(value)
		case "ornaments":
			d.Ornaments = value == "true"
		case "even":
			d.Even = value == "true"
		case "decisions":
			if t, err := realize.ParseTaste(value); err == nil && known(t.Tradition) {
				d.Taste = t
				if rate > 0 {
					d.Taste.Rate = rate
				}
			}
		case "selected":
			selected = int(number)
		case "note":
			note = score.ID(value)
		case "change", "made", "moment", "at":
			past.take(name, value)
		case "closed":
			closed[score.ID(value)] = true
		}
	})
	d.past.going = true
	d.past.changes = past.changes
	d.remake(past.within(past.made))
	d.Closed = closed
	d.readYielding(yield)
	d.selectInside()
	d.Select(selected)
	d.SelectNote(note) // also one beside the chosen bars, which a page shows
	d.past.going = false
	d.begin()
	d.retrace(past.played(rate))
}

func eachLine(saved string, f func(name, value string)) {
	for _, line := range strings.Split(saved, "\n") {
		name, escaped, ok := strings.Cut(line, " ")
		if !ok {
			continue
		}
		if value, err := url.QueryUnescape(escaped); err == nil {
			f(name, value)
		}
	}
}
