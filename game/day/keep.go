package day

import (
	"strconv"
	"strings"
)

// Encode writes a day as a line, with the date it belongs to (days since any
// one day).
func (d Day) Encode(date int) string {
	if !d.On {
		return ""
	}
	tried := 0
	if d.Tried {
		tried = 1
	}
	words := []string{"day1"}
	for _, n := range []int{date, d.Step, tried, d.Rounds, d.Clean, d.Seconds, d.All} {
		words = append(words, strconv.Itoa(n))
	}
	return strings.TrimSpace(strings.Join(words, " ") + " " + d.Path)
}

// Decode reads what [Day.Encode] wrote on the same date; anything else is no
// day.
func Decode(line string, date int) Day {
	words := strings.Fields(line)
	if len(words) < 8 || words[0] != "day1" {
		return Day{}
	}
	var n [7]int
	for i, w := range words[1:8] {
		v, err := strconv.Atoi(w)
		if err != nil || v < 0 || v > 1_000_000 {
			return Day{}
		}
		n[i] = v
	}
	d := Day{On: true, Path: strings.Join(words[8:], " "), Step: n[1], Tried: n[2] == 1, Rounds: n[3], Clean: n[4], Seconds: n[5], All: n[6]}
	if n[0] != date || n[1] >= len(d.Steps()) || n[2] > 1 {
		return Day{}
	}
	return d
}

// mostDays is how many tasks of one date are kept.
const mostDays = 20

// Keep puts a day into the text of those of a date, one line for each task;
// id names the task, "" is the desk. Days of other dates are left out.
func Keep(text string, d Day, date int, id string) string {
	var lines []string
	for _, line := range strings.Split(text, "\n") {
		if other, day := named(line); other != id && Decode(day, date).On {
			lines = append(lines, line)
		}
	}
	if line := d.Encode(date); line != "" {
		if id != "" {
			line = id + "\t" + line
		}
		lines = append(lines, line)
	}
	return strings.Join(lines[max(0, len(lines)-mostDays):], "\n")
}

// Kept is the day of a task on a date, as [Keep] put it there.
func Kept(text string, date int, id string) Day {
	for _, line := range strings.Split(text, "\n") {
		if other, day := named(line); other == id {
			return Decode(day, date)
		}
	}
	return Day{}
}

// named parts a line into the task's id and the day.
func named(line string) (id, day string) {
	if id, day, ok := strings.Cut(line, "\t"); ok {
		return id, day
	}
	return "", line
}
