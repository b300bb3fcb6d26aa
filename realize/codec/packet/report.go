package packet

import (
	"fmt"
	"strconv"
	"strings"
)

// MaxReport is how many letters a report may have: at most this many fit into
// one QR code that a tablet shows large enough for another to read.
const MaxReport = 1000

// maxDays is how many days a report tells of.
const maxDays = 21

// Limits of a report's numbers: felt beats a minute, twice what a log of
// practice holds; rounds; the minutes of a day; milliseconds.
const (
	maxBeats   = 2000
	maxRounds  = 100_000
	maxMinutes = 24 * 60
	maxLate    = 100_000
)

// leastDays is how many it tells of at least, where there were so many.
const leastDays = 7

// Report is what comes back: sums and no single taps. Nothing in it names the
// student but the name that was typed.
type Report struct {
	Name  string
	Task  string // the task's [Task.ID]
	Title string
	Bars  string
	Goal  float64 // felt beats a minute
	Days  []Day   // the oldest first
	// Fault is the code of the one finding that is left, "" none.
	Fault string
	// Where is the printed bar and the sign it was found at, "5 trill", ""
	// where it holds for several or is not known.
	Where string
	// Unaided counts rounds without clicks and moving line, CleanUnaided the
	// clean ones among them.
	Unaided, CleanUnaided int
	// Packed is the task itself, where there is room for it, so that the
	// teacher can go on from the report alone.
	Packed string
	// Unread names the lines whose numbers lay outside their limits when the
	// report was read and are 0 now, a day by its date. It is not written.
	Unread []string
}

// Day is one day of practice.
type Day struct {
	Date string // "2026-11-25"
	// Minutes tapped, and at the piano as the student told.
	Tapped, Piano int
	Rounds, Clean int
	// The day's first round, cold: its tempo in felt beats a minute, how late
	// its ornaments started (ms, early negative), and whether it was clean.
	ColdTempo float64
	ColdLate  float64
	ColdClean bool
	// Reached is the fastest clean tempo of the day, 0 none.
	Reached float64
	// Played is the fastest at which it was clean at the instrument itself, as
	// far as the page listened; 0 none.
	Played float64
}

// EncodeReport writes a report in at most [MaxReport] letters: what does not
// fit goes in this order, the oldest days but seven, the task (and those days
// are told after all), then the oldest days.
func EncodeReport(r Report) string {
	if len(r.Days) > maxDays {
		r.Days = r.Days[len(r.Days)-maxDays:]
	}
	r.Task = clipped(r.Task, 16)
	// The next task is made from this one: for it earlier days make room, of
	// which the teacher has reports, as long as that is room enough.
	for with := r; with.Packed != "" && len(with.Days) >= leastDays; with.Days = with.Days[1:] {
		if letters := pack(ReportKind, with.lines()); len(letters) <= MaxReport {
			return letters
		}
	}
	for {
		letters := pack(ReportKind, r.lines())
		switch {
		case len(letters) <= MaxReport:
			return letters
		case r.Packed != "":
			r.Packed = ""
		case len(r.Days) > 1:
			r.Days = r.Days[1:]
		default:
			r.Title = clipped(r.Title, len([]rune(r.Title))/2)
			r.Name = clipped(r.Name, 40)
			r.Bars = clipped(r.Bars, 20)
			r.Fault = clipped(r.Fault, 40)
			r.Where = clipped(r.Where, 40)
		}
	}
}

func (r Report) lines() string {
	var w writer
	w.text("name", r.Name)
	w.text("task", r.Task)
	w.text("title", r.Title)
	w.text("bars", r.Bars)
	w.number("goal", r.Goal)
	w.text("fault", r.Fault)
	w.text("where", r.Where)
	w.text("unaided", pair(r.CleanUnaided, r.Unaided))
	for _, d := range r.Days {
		clean := "-"
		if d.ColdClean {
			clean = "+"
		}
		line := fmt.Sprintf("%s %d %d %d %d %.0f %.0f %s %.0f",
			d.Date, min(d.Tapped, maxMinutes), min(d.Piano, maxMinutes), d.Rounds, d.Clean, d.ColdTempo, d.ColdLate, clean, d.Reached)
		if d.Played > 0 {
			line += fmt.Sprintf(" %.0f", d.Played)
		}
		w.text("day", line)
	}
	w.text("packed", r.Packed)
	return w.String()
}

func pair(a, b int) string {
	if b == 0 {
		return ""
	}
	return strconv.Itoa(a) + " " + strconv.Itoa(b)
}

// DecodeReport reads a report. Errors wrap one of this package's.
func DecodeReport(letters string) (Report, error) {
	text, err := unpack(ReportKind, letters)
	if err != nil {
		return Report{}, err
	}
	var r Report
	var u unread
	eachLine(text, func(name, value string) {
		switch name {
		case "name":
			r.Name = clipped(value, maxName)
		case "task":
			r.Task = clipped(value, 16)
		case "title":
			r.Title = clipped(value, maxName)
		case "bars":
			r.Bars = clipped(value, maxName)
		case "goal":
			r.Goal = u.number(name, value, 1, maxBeats)
		case "fault":
			r.Fault = clipped(value, maxName)
		case "where":
			r.Where = clipped(value, maxName)
		case "unaided":
			fields := strings.Fields(value)
			if len(fields) == 2 {
				r.Unaided = u.count(name, fields[1], maxRounds)
				r.CleanUnaided = u.count(name, fields[0], r.Unaided)
			}
		case "day":
			if d, ok := u.day(value); ok && len(r.Days) < maxDays {
				r.Days = append(r.Days, d)
			}
		case "packed":
			r.Packed = value
		}
	})
	r.Unread = u
	return r, nil
}

// day reads a line about one day; ok is false where it names none.
func (u *unread) day(s string) (d Day, ok bool) {
	f := strings.Fields(s)
	if len(f) < 9 || !isDate(f[0]) {
		return d, false
	}
	d = Day{Date: f[0], ColdClean: f[7] == "+"}
	d.Tapped, d.Piano = u.count(d.Date, f[1], maxMinutes), u.count(d.Date, f[2], maxMinutes)
	d.Rounds = u.count(d.Date, f[3], maxRounds)
	d.Clean = u.count(d.Date, f[4], d.Rounds)
	d.ColdTempo = u.number(d.Date, f[5], 0, maxBeats)
	d.ColdLate = u.number(d.Date, f[6], -maxLate, maxLate)
	d.Reached = u.number(d.Date, f[8], 0, maxBeats)
	if len(f) > 9 {
		d.Played = u.number(d.Date, f[9], 0, maxBeats)
	}
	return d, true
}

// isDate reports whether s is written like "2026-11-25".
func isDate(s string) bool {
	if len(s) != len("2026-11-25") {
		return false
	}
	for i, r := range []byte(s) {
		switch dash := i == 4 || i == 7; {
		case dash && r != '-', !dash && (r < '0' || r > '9'):
			return false
		}
	}
	return true
}
