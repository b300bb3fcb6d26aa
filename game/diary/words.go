package diary

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"agremens/realize/tap"
)

// Row is one line of what has stayed, in words.
type Row struct{ Name, Text string }

// EarNames are the four things a teacher marks by ear.
var EarNames = [4]string{"on its beat", "even", "lands in time", "beat steady"}

// Rows puts progress into words, what tells most first.
func (p Progress) Rows() []Row {
	rows := []Row{
		{"First round of each day, cold", p.Cold.words("days")},
		{"Rounds without help", p.Unaided.words("rounds")},
		{"Passages new to you", p.New.words("passages")},
	}
	for i, h := range p.Ears {
		if h.N == 0 {
			continue
		}
		rows = append(rows, Row{"By ear: " + EarNames[i], h.words()})
	}
	return rows
}

// words says what a set of rounds shows; unit names what there is one round of.
func (k Kept) words(unit string) string {
	switch {
	case k.Rounds == 0:
		return "none yet"
	case k.Starts.Verdict == tap.TooFew:
		return fmt.Sprintf("%s so far; from eight on a change can be told", count(k.Rounds, unit))
	}
	text := fmt.Sprintf("starts %s from the beat, before that %s: %s", ms(k.Starts.After), ms(k.Starts.Before), verdict(k.Starts.Verdict))
	if k.Tempo.Verdict == tap.Better || k.Tempo.Verdict == tap.Worse {
		way := "faster"
		if k.Tempo.Verdict == tap.Worse {
			way = "slower"
		}
		text += fmt.Sprintf("; the tempo is %s, %s of the goal", way, percent(k.Tempo.After))
	}
	return text
}

func (h Heard) words() string {
	text := fmt.Sprintf("%d of %d", h.Latest, BestMark)
	if h.Change.Verdict != tap.TooFew {
		text += fmt.Sprintf("; on average %.1f, before that %.1f: %s", h.Change.After, h.Change.Before, verdict(h.Change.Verdict))
	}
	return text
}

func verdict(v tap.Verdict) string { return tap.English().Verdicts[v] }

// Summary says how much was practised: "4 days, 23 rounds, 31 minutes of tapping".
func (p Progress) Summary() string {
	if p.Rounds == 0 && p.PianoMinutes == 0 {
		return "Nothing here yet. A round of tapping writes the first line."
	}
	text := fmt.Sprintf("%s, %s, %s of tapping", count(p.Days, "days"), count(p.Rounds, "rounds"), count(p.Minutes, "minutes"))
	if p.PianoMinutes > 0 {
		text += fmt.Sprintf(", %s at the piano as told", count(p.PianoMinutes, "minutes"))
	}
	return text + "."
}

// count writes a number with a plural noun, made singular for one.
func count(n int, plural string) string {
	if n == 1 {
		return "1 " + plural[:len(plural)-1]
	}
	return fmt.Sprintf("%d %s", n, plural)
}

// ms writes milliseconds to the nearest ten.
func ms(x float64) string { return fmt.Sprintf("%.0f ms", 10*math.Round(x/10)) }

func percent(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }

// TableHead names the columns of [DayLine.Cells].
var TableHead = []string{"Day", "Rounds", "Minutes", "Cold: tempo", "Cold: starts off", "Without help: starts off", "Clean", "Fastest clean"}

// Cells puts a day into the columns of a table.
func (l DayLine) Cells() []string {
	dash := "–"
	cells := []string{l.Short(), fmt.Sprint(l.Rounds), fmt.Sprint(l.Minutes), dash, dash, dash, fmt.Sprint(l.Clean), dash}
	if l.Cold != nil {
		cells[3] = fmt.Sprintf("%.0f", l.Cold.Beats)
	}
	if off, ok := l.Cold.off(); ok {
		cells[4] = ms(off)
	}
	if off, ok := l.Unaided.off(); ok {
		cells[5] = ms(off)
	}
	if l.Best > 0 {
		cells[7] = percent(l.Best) + " of the goal"
	}
	return cells
}

// Left names the one fault left, in a sentence, "" where none is.
func (p Progress) Left() string {
	if p.Fault == "" {
		return ""
	}
	return "Left to work on: " + Fault(p.Fault) + "."
}

// Where says in whose log rounds went that were just played, and what the
// button beside it does.
func Where(rounds []Round) (text, button string) {
	text, button = "In the log, without a name.", "That wasn’t me"
	var names []string
	for _, r := range rounds {
		if r.Player != "" && !slices.Contains(names, r.Player) {
			names = append(names, r.Player)
		}
		if r.Void {
			text, button = "Dropped: this counts for nobody.", "It was me"
		}
	}
	if len(names) > 0 && button == "That wasn’t me" {
		text = "In the log of " + strings.Join(names, ", ") + "."
	}
	return text, button
}

// Today says how much was practised on a day: "3 rounds, 4 minutes of tapping."
func (p Progress) Today(day int) string {
	if n := len(p.Last); n > 0 && p.Last[n-1].Day == day {
		l := p.Last[n-1]
		return fmt.Sprintf("%s, %s of tapping.", count(l.Rounds, "rounds"), count(l.Minutes, "minutes"))
	}
	return ""
}
