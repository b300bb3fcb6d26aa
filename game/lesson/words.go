package lesson

import (
	"slices"
	"strconv"
	"strings"

	"agremens/game/glossary"
	"agremens/realize/codec/packet"
	"agremens/realize/sorting"
	"agremens/realize/tap"
	"agremens/realize/words"
)

// Lines is a report in words, in the order in which it is read.
type Lines struct {
	Heading string
	// Time, Cold and Left are the three lines that stand first.
	Time, Cold, Left string
	// Ask is for a parent, who need not read music.
	Ask string
	// Days has one line a day for whoever wants more.
	Days []string
}

// Read puts a report into words.
func Read(r packet.Report, c *words.Catalogue) Lines {
	var tapped, piano int
	for _, d := range r.Days {
		tapped += d.Tapped
		piano += d.Piano
	}
	l := Lines{Heading: heading(r, c)}
	l.Time = c.Count(len(r.Days), "{n} day", "{n} days") + ", " + c.Count(tapped, "{n} minute of tapping", "{n} minutes of tapping")
	if piano > 0 {
		l.Time += ", " + c.Count(piano, "{n} minute at the piano (student's figure)", "{n} minutes at the piano (student's figure)")
	}
	l.Time += "."
	l.Cold = cold(r, c)
	if p := playedWords(r, c); p != "" {
		l.Cold = p + " " + l.Cold
	}
	_, ask := fault(r.Fault)
	leftAt := LeftAt(r.Fault, r.Where, c)
	if r.Fault == "" && !heardOrnaments(r) {
		leftAt, ask = c.Say(unheard.work), unheard.ask
	}
	if r.Fault == "" && played(r) > 0 {
		leftAt = c.Say("nothing that could be heard at the piano.")
	}
	l.Left, l.Ask = c.Say("Left to do: {what}", "{what}", leftAt), c.Say("Ask: {what}", "{what}", c.Say(ask))
	if len(r.Days) == 0 {
		l.Time, l.Cold, l.Left = c.Say("No round yet."), "", ""
	}
	for _, d := range r.Days {
		l.Days = append(l.Days, dayLine(d, r.Goal, c))
	}
	if len(r.Unread) > 0 {
		l.Days = append(l.Days, c.Say("Some numbers in this report make no sense and are left out."))
	}
	return l
}

// heardOrnaments reports whether any round with ornaments was judged: before
// that nothing can be said to be in order.
func heardOrnaments(r packet.Report) bool {
	return slices.ContainsFunc(r.Days, func(d packet.Day) bool { return d.ColdTempo > 0 })
}

func heading(r packet.Report, c *words.Catalogue) string {
	text := r.Title
	if text == "" {
		text = c.Say("Untitled")
	}
	if r.Bars != "" {
		text += ", " + c.Say("bars {bars}", "{bars}", strings.ReplaceAll(r.Bars, "-", "–"))
	}
	if r.Name != "" {
		text = r.Name + ": " + text
	}
	return text
}

// cold tells the first round of each day, at most the last five of them.
func cold(r packet.Report, c *words.Catalogue) string {
	var tempos []string
	clean := 0
	days := slices.DeleteFunc(slices.Clone(r.Days), func(d packet.Day) bool { return d.ColdTempo == 0 })
	if len(days) == 0 {
		return c.Say("No round with the ornaments yet.")
	}
	days = days[max(0, len(days)-5):]
	for _, d := range days {
		word := c.Number(d.ColdTempo, 0)
		if d.ColdClean {
			clean++
			word = c.Say("{tempo} clean", "{tempo}", word)
		}
		tempos = append(tempos, word)
	}
	all := strings.Join(tempos, ", ")
	text := c.Say("First round of the day, cold: {tempos} beats per minute.", "{tempos}", all)
	if r.Goal > 0 {
		text = c.Say("First round of the day, cold: {tempos}; goal {goal} beats per minute.", "{tempos}", all, "{goal}", c.Number(r.Goal, 0))
	}
	if last := days[len(days)-1]; last.ColdLate >= 40 || last.ColdLate <= -40 {
		text += " " + lateWords(last.ColdLate, c)
	}
	if r.Unaided > 0 {
		text += " " + c.Say("Without help: {n} of {all} rounds clean.", "{n}", strconv.Itoa(r.CleanUnaided), "{all}", strconv.Itoa(r.Unaided))
	}
	return text
}

// played is the tempo that was clean at the instrument on the latest day that
// has one, beats a minute, 0 none.
func played(r packet.Report) float64 {
	tempo := 0.0
	for _, d := range r.Days {
		if d.Played > 0 {
			tempo = d.Played
		}
	}
	return tempo
}

// playedWords tells what was clean at the instrument, "" where nothing was.
func playedWords(r packet.Report, c *words.Catalogue) string {
	switch tempo := played(r); {
	case tempo == 0:
		return ""
	case r.Goal > 0:
		return c.Say("Clean at the piano at {tempo} of {goal} beats per minute.", "{tempo}", c.Number(tempo, 0), "{goal}", c.Number(r.Goal, 0))
	default:
		return c.Say("Clean at the piano at {tempo} beats per minute.", "{tempo}", c.Number(tempo, 0))
	}
}

// lateWords rounds to 10 ms: nothing finer can be heard against another hand.
func lateWords(ms float64, c *words.Catalogue) string {
	round := func(ms float64) string { return strconv.Itoa(int(ms/10+0.5) * 10) }
	if ms < 0 {
		return c.Say("Most recently the ornaments started about {ms} ms early.", "{ms}", round(-ms))
	}
	return c.Say("Most recently the ornaments started about {ms} ms late.", "{ms}", round(ms))
}

func dayLine(d packet.Day, goal float64, c *words.Catalogue) string {
	text := d.Date + ": " + c.Count(d.Rounds, "{n} round", "{n} rounds")
	if d.Clean > 0 {
		text += ", " + c.Say("{n} clean", "{n}", strconv.Itoa(d.Clean))
	}
	text += ", " + c.Count(d.Tapped, "{n} minute", "{n} minutes")
	if d.Piano > 0 {
		text += ", " + c.Count(d.Piano, "{n} minute at the piano", "{n} minutes at the piano")
	}
	if d.ColdTempo > 0 {
		text += "; " + c.Say("first at {tempo}", "{tempo}", c.Number(d.ColdTempo, 0))
	}
	if d.Played > 0 { // the real thing comes first
		text += ", " + c.Say("clean at the piano at {tempo}", "{tempo}", c.Number(d.Played, 0))
	}
	switch {
	case d.Reached > 0 && goal > 0:
		text += ", " + c.Say("clean at {tempo} of {goal}", "{tempo}", c.Number(d.Reached, 0), "{goal}", c.Number(goal, 0))
	case d.Reached > 0:
		text += ", " + c.Say("clean at {tempo}", "{tempo}", c.Number(d.Reached, 0))
	}
	return text + "."
}

// left is a finding that remains: what to work on, for the teacher, and what a
// parent can ask, by ear alone.
type left struct{ work, ask string }

// unheard is what is left where the ornaments were never judged.
//
//words:texts
var unheard = left{"a round with the ornaments.", "shall we open it together, just to listen?"}

// The codes are those of realize/tap.
//
//words:texts
var leftWords = []struct {
	codes []string
	left
}{
	{[]string{tap.CodeLateStart, tap.CodeReacting}, left{"the ornament starts after the other hand.", "does the ornament's first note sound together with the left hand?"}},
	{[]string{tap.CodeEarlyStart}, left{"the ornament starts before the other hand.", "does the ornament's first note wait for the left hand?"}},
	{[]string{tap.CodeBeforeBeat, tap.CodeTurnEarly}, left{"the ornament is played before the beat.", "which note sounds together with the left hand, the ornament's first or its last?"}},
	{[]string{tap.CodeHandWaits, tap.CodeSlowsAfter, tap.CodeDragged}, left{"the beat slows down for the ornament.", "could I clap along without waiting for you?"}},
	{[]string{tap.CodeRushesAfter, tap.CodeRushed, tap.CodeDrift}, left{"the beat speeds up around the ornament.", "could I clap along without hurrying?"}},
	{[]string{tap.CodeLimps, tap.CodeLimpsLower, tap.CodeUneven, tap.CodeTurnTwoQuick}, left{"the ornament's notes are uneven.", "do the ornament's notes sound like beads on a string, all the same?"}},
	{[]string{tap.CodeCrowdedFront, tap.CodeCrowdedBack}, left{"the ornament's notes crowd together.", "are the ornament's notes spread evenly, or do they bunch up?"}},
	{[]string{tap.CodeLateAfter}, left{"the ornament is in time; what follows it comes late.", "after the ornament, does it go straight on, or is there a moment of waiting?"}},
	{[]string{tap.CodeBump, tap.CodeLandsLate, tap.CodeLandsEarly}, left{"the exit: the notes after the ornament are not in time.", "does it go straight on after the ornament, or is there a bump?"}},
	{[]string{tap.CodeNoEnding, tap.CodeShort, tap.CodeFewerNotes, tap.CodeMoreNotes, tap.CodeMissed, tap.CodeExtra}, left{"the number of notes is not yet the one that was planned.", "can you say how many notes the ornament has, before you play it?"}},
	{[]string{tap.CodeHandsApart, tap.CodeUnsteady, tap.CodeSwapped, tap.CodeWrongHand, tap.CodeOtherKeys}, left{"the hands are not yet sure of each other.", "can you play just the plain notes, both hands together?"}},
	{[]string{tap.CodeLeanShort, tap.CodeLeanLong, tap.CodeLetsGo}, left{"the long appoggiatura is not held as planned.", "which note is louder, the first or the one it leads to?"}},
	{[]string{tap.CodeTooFew}, left{"too few rounds to tell.", "shall I sit with you for two rounds?"}},
}

//words:texts
func fault(code string) (work, ask string) {
	for _, l := range leftWords {
		if slices.Contains(l.codes, code) {
			return l.work, l.ask
		}
	}
	return "nothing that tapping can hear; now at the piano.", "will you play it to me at the piano?"
}

// Left says in English what a fault's code leaves to be done.
func Left(code string) string {
	work, _ := fault(code)
	return work
}

// LeftAt is Left in the words of c, with the sign and its bar where they are
// known: at is "5 trill".
func LeftAt(code, at string, c *words.Catalogue) string {
	text := c.Say(Left(code))
	bar, sign, _ := strings.Cut(at, " ")
	if e, ok := glossary.Find(sign); ok && code != "" {
		text = c.Say("{sign} in bar {bar}: {what}", "{sign}", e.Title(c), "{bar}", bar, "{what}", text)
	}
	return text
}

// Ask is what a fault's code lets a parent ask, in English.
func Ask(code string) string {
	_, ask := fault(code)
	return ask
}

func sortDays(days []packet.Day) {
	sorting.Stable(days, func(a, b packet.Day) int { return strings.Compare(a.Date, b.Date) })
}
