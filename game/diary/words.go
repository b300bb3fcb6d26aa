package diary

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"agremens/realize/tap"
	"agremens/realize/words"
)

// Row is one line of what has stayed, in words.
type Row struct{ Name, Text string }

// EarNames are the four things a teacher marks by ear.
//
//words:texts
var EarNames = [4]string{"on its beat", "even", "lands in time", "beat steady"}

// Rows puts progress into words, what tells most first.
func (p Progress) Rows(c *words.Catalogue) []Row {
	rows := []Row{
		{c.Say("First round of each day, cold"), p.Cold.words(c, c.Count(p.Cold.Rounds, "{n} day so far; from eight on a change can be seen", "{n} days so far; from eight on a change can be seen"))},
		{c.Say("Rounds without help"), p.Unaided.words(c, c.Count(p.Unaided.Rounds, "{n} round so far; from eight on a change can be seen", "{n} rounds so far; from eight on a change can be seen"))},
		{c.Say("Passages new to you"), p.New.words(c, c.Count(p.New.Rounds, "{n} passage so far; from eight on a change can be seen", "{n} passages so far; from eight on a change can be seen"))},
	}
	for i, h := range p.Ears {
		if h.N == 0 {
			continue
		}
		rows = append(rows, Row{c.Say("By ear: {what}", "{what}", c.Say(EarNames[i])), h.words(c)})
	}
	return rows
}

// words says what a set of rounds shows; few is what is said where they are too
// few to tell.
func (k Kept) words(c *words.Catalogue, few string) string {
	switch {
	case k.Rounds == 0:
		return c.Say("none yet")
	case k.Starts.Verdict == tap.TooFew:
		return few
	}
	text := c.Say("starts {now} from the beat, before that {before}: {verdict}",
		"{now}", ms(k.Starts.After), "{before}", ms(k.Starts.Before), "{verdict}", verdict(c, k.Starts.Verdict))
	switch k.Tempo.Verdict {
	case tap.Better:
		text += "; " + c.Say("the tempo is faster, {share} of the goal", "{share}", percent(k.Tempo.After))
	case tap.Worse:
		text += "; " + c.Say("the tempo is slower, {share} of the goal", "{share}", percent(k.Tempo.After))
	}
	return text
}

func (h Heard) words(c *words.Catalogue) string {
	text := c.Say("{n} of {all}", "{n}", strconv.Itoa(h.Latest), "{all}", strconv.Itoa(BestMark))
	if h.Change.Verdict != tap.TooFew {
		text += "; " + c.Say("on average {now}, before that {before}: {verdict}",
			"{now}", c.Number(h.Change.After, 1), "{before}", c.Number(h.Change.Before, 1), "{verdict}", verdict(c, h.Change.Verdict))
	}
	return text
}

func verdict(c *words.Catalogue, v tap.Verdict) string { return tap.WordsIn(c).Verdicts[v] }

// Summary says how much was practised: "4 days, 23 rounds, 31 minutes of tapping".
func (p Progress) Summary(c *words.Catalogue) string {
	if p.Rounds == 0 && p.PianoMinutes == 0 {
		return c.Say("Nothing here yet. A round of tapping writes the first line.")
	}
	text := c.Count(p.Days, "{n} day", "{n} days") + ", " + rounds(c, p.Rounds) + ", " + tapping(c, p.Minutes)
	if p.PianoMinutes > 0 {
		text += ", " + c.Count(p.PianoMinutes, "{n} minute at the piano (student's figure)", "{n} minutes at the piano (student's figure)")
	}
	return text + "."
}

func rounds(c *words.Catalogue, n int) string { return c.Count(n, "{n} round", "{n} rounds") }

func tapping(c *words.Catalogue, minutes int) string {
	return c.Count(minutes, "{n} minute of tapping", "{n} minutes of tapping")
}

// ms writes milliseconds to the nearest ten.
func ms(x float64) string { return strconv.Itoa(int(10*math.Round(x/10))) + " ms" }

func percent(share float64) string { return strconv.Itoa(int(math.Round(100*share))) + " %" }

// TableHead names the columns of [DayLine.Cells].
//
//words:texts
var TableHead = []string{"Day", "Rounds", "Minutes", "Cold: tempo", "Cold: starts off", "Without help: starts off", "Clean", "Fastest clean"}

// Cells puts a day into the columns of a table.
func (l DayLine) Cells(c *words.Catalogue) []string {
	dash := "–"
	cells := []string{l.Short(c), strconv.Itoa(l.Rounds), strconv.Itoa(l.Minutes), dash, dash, dash, strconv.Itoa(l.Clean), dash}
	if l.Cold != nil {
		cells[3] = c.Number(l.Cold.Beats, 0)
	}
	if off, ok := l.Cold.off(); ok {
		cells[4] = ms(off)
	}
	if off, ok := l.Unaided.off(); ok {
		cells[5] = ms(off)
	}
	if l.Best > 0 {
		cells[7] = c.Say("{share} of the goal", "{share}", percent(l.Best))
	}
	return cells
}

// Left names the one fault left, in a sentence, "" where none is.
func (p Progress) Left(c *words.Catalogue) string {
	if p.Fault == "" {
		return ""
	}
	return c.Say("Left to work on: {fault}.", "{fault}", c.Say(Fault(p.Fault)))
}

// Where says in whose log rounds went that were just played, and what the
// button beside it does.
func Where(rounds []Round, c *words.Catalogue) (text, button string) {
	text, button = c.Say("In the log, without a name."), c.Say("That wasn’t me")
	var names []string
	dropped := false
	for _, r := range rounds {
		if r.Player != "" && !slices.Contains(names, r.Player) {
			names = append(names, r.Player)
		}
		if r.Void {
			dropped = true
			text, button = c.Say("Discarded: this does not count for anyone."), c.Say("It was me")
		}
	}
	if len(names) > 0 && !dropped {
		text = c.Say("In the log of {names}.", "{names}", strings.Join(names, ", "))
	}
	return text, button
}

// Today says how much was practised on a day: "3 rounds, 4 minutes of tapping."
func (p Progress) Today(day int, c *words.Catalogue) string {
	if n := len(p.Last); n > 0 && p.Last[n-1].Day == day {
		l := p.Last[n-1]
		return rounds(c, l.Rounds) + ", " + tapping(c, l.Minutes) + "."
	}
	return ""
}
