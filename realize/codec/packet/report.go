package packet

import (
	"fmt"
	"strconv"
	"strings"
)

// MaxReport is how many letters a report may have: at most this many fit into
// one square code that a tablet shows large enough for another to read.
const MaxReport = 1000

// maxDays is how many days a report tells of.
const maxDays = 21

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
	// Unaided counts rounds without clicks and moving line, CleanUnaided the
	// clean ones among them.
	Unaided, CleanUnaided int
	// Packed is the task itself, where there is room for it, so that the
	// teacher can go on from the report alone.
	Packed string
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
	w.text("unaided", pair(r.CleanUnaided, r.Unaided))
	for _, d := range r.Days {
		clean := "-"
		if d.ColdClean {
			clean = "+"
		}
		w.text("day", fmt.Sprintf("%s %d %d %d %d %.0f %.0f %s %.0f",
			d.Date, d.Tapped, d.Piano, d.Rounds, d.Clean, d.ColdTempo, d.ColdLate, clean, d.Reached))
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
			r.Goal, _ = number(value, 1, 2000)
		case "fault":
			r.Fault = clipped(value, maxName)
		case "unaided":
			fields := strings.Fields(value)
			if len(fields) == 2 {
				r.CleanUnaided, r.Unaided = count(fields[0]), count(fields[1])
			}
		case "day":
			if d, ok := parseDay(value); ok && len(r.Days) < maxDays {
				r.Days = append(r.Days, d)
			}
		case "packed":
			r.Packed = value
		}
	})
	return r, nil
}

func parseDay(s string) (d Day, ok bool) {
	f := strings.Fields(s)
	if len(f) < 9 || len(f[0]) != len("2026-11-25") {
		return d, false
	}
	d = Day{Date: clipped(f[0], 10), Tapped: count(f[1]), Piano: count(f[2]), Rounds: count(f[3]), Clean: count(f[4]), ColdClean: f[7] == "+"}
	d.ColdTempo, _ = number(f[5], 0, 2000)
	d.ColdLate, _ = number(f[6], -10000, 10000)
	d.Reached, _ = number(f[8], 0, 2000)
	return d, true
}

// count reads a count; what is none counts 0.
func count(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		return 0
	}
	return min(100_000, max(0, n))
}
