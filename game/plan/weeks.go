package plan

import (
	"math"
	"strconv"
	"strings"

	"agremens/game/class"
	"agremens/game/diary"
	"agremens/game/glossary"
	"agremens/game/practice"
	"agremens/realize/codec/packet"
	"agremens/realize/words"
)

// MostWeeks is how many weeks are drafted at once: a report changes the plan
// before more of them come.
const MostWeeks = 4

// Weeks drafts the tasks of the coming weeks: the next one from the last
// report, then the same bars a step faster each week, until a week at the goal
// tempo that ends at the instrument. Common practice, no source. There is none
// where no task is here to go on from.
func Weeks(s *class.Student, today int, c *words.Catalogue) (all []class.Planned) {
	d, ok := Next(s, c)
	if !ok {
		return nil
	}
	task, err := packet.DecodeTask(d.Work.Letters)
	if err != nil {
		return nil
	}
	goal := float64(d.Work.Goal)
	day, percent, kinds, why := s.NextLesson(today), d.Percent, d.Kinds, d.Reason
	for range MostWeeks {
		task.Percent, task.Kinds = percent, kinds
		p := class.Planned{Day: day, Title: task.Title, Bars: task.Bars, Why: why, Letters: packet.EncodeTask(task),
			Begin: int(math.Round(goal * percent / 100)), Goal: d.Work.Goal, Signs: d.Work.Signs}
		all = append(all, p)
		if percent >= 100 {
			break
		}
		percent, kinds = min(percent+up, 100), []string{practice.Tap, practice.Alone, practice.Piano}
		if percent == 100 {
			kinds = []string{practice.Alone, practice.Piano}
		}
		why = c.Say("A step faster, if the week before was clean.")
		day += class.Span
	}
	return all
}

// Due returns the planned task whose turn has come with the next lesson, the
// earliest first; ok is false where there is none.
func Due(s *class.Student, today int) (p class.Planned, ok bool) {
	for _, p := range s.Coming(today) {
		if p.Day <= s.NextLesson(today) {
			return p, true
		}
	}
	return p, false
}

// Follows reports whether a draft goes on with what was planned: the same bars
// of the same piece, for which the last report knows the tempo better.
func (d *Draft) Follows(p class.Planned) bool {
	return d.Work.Title == p.Title && d.Work.Bars == p.Bars
}

// Heading names a planned task: "From 2 Dec: Minuet, bars 5–8".
func Heading(p class.Planned, c *words.Catalogue) string {
	return c.Say("From {date}: {piece}", "{date}", diary.When{Day: p.Day}.Short(c), "{piece}", class.Piece(p.Title, p.Bars, c))
}

// Lines tell of a planned task: its signs, its tempos, its kinds of round and why.
func Lines(p class.Planned, c *words.Catalogue) []string {
	var signs, kinds, parts []string
	for _, key := range p.Signs {
		if e, ok := glossary.Find(key); ok {
			signs = append(signs, e.Title(c))
		}
	}
	task, _ := packet.DecodeTask(p.Letters) // what cannot be read has no kinds
	for _, key := range task.Kinds {
		if k, ok := practice.Find(key); ok {
			kinds = append(kinds, c.Say(k.Name))
		}
	}
	tempo := ""
	switch {
	case p.Goal == 0:
	case p.Begin == p.Goal || p.Begin == 0:
		tempo = c.Say("At {tempo}", "{tempo}", strconv.Itoa(p.Goal))
	default:
		tempo = c.Say("{slow} to {fast}", "{slow}", strconv.Itoa(p.Begin), "{fast}", strconv.Itoa(p.Goal))
	}
	for _, part := range []string{strings.Join(signs, ", "), tempo, strings.Join(kinds, ", ")} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	lines := []string{strings.TrimSuffix(words.Sentence(strings.Join(parts, " · ")), ".")}
	if p.Why != "" {
		lines = append(lines, c.Say("Because: {reason}", "{reason}", p.Why))
	}
	return lines
}
