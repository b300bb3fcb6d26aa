// Package plan drafts what a student does next from what has come back, and
// lists what to ask and hear in today's lessons. It is pure. The teacher
// changes whatever she likes before it leaves.
package plan

import (
	"strconv"

	"agremens/game/class"
	"agremens/game/lesson"
	"agremens/game/practice"
	"agremens/realize/words"
)

// Draft is the next task: the earlier one, with another tempo to begin with and
// other kinds of round.
type Draft struct {
	Work    *class.Work // that it goes on from; its letters are there
	Percent float64     // of the goal, where practice begins
	Kinds   []string    // keys of kinds of round, in order
	Reason  string      // in words: "Trill in bar 5: the next note is late. 3 days at 60."
}

// Steps in per cent: to which tempos are rounded, and by how much the tempo
// goes up after a clean start and down after days that stood still. Common
// practice, no source.
const (
	percentStep = 5
	up          = 10
	down        = 10
	stillDays   = 3
	least       = 40
)

// Next drafts a student's next task; ok is false where no task of hers is here
// to go on from.
func Next(s *class.Student, c *words.Catalogue) (d Draft, ok bool) {
	row := s.Row(0, 1)
	w := row.Work
	if w == nil {
		return d, false
	}
	if w.Letters == "" { // no report had room for it: go on from the last that had
		for i := range s.Works {
			if s.Works[i].Letters != "" {
				w = &s.Works[i]
			}
		}
	}
	if w.Letters == "" {
		return d, false
	}
	d = Draft{Work: w, Percent: 100}
	days := w.Told()
	tempo, clean, still := lately(days)
	reached, played := w.Reached()
	switch {
	case tempo == 0:
		d.Kinds = []string{practice.Echo, practice.Tap, practice.Piano}
		d.Reason = c.Say("No round with the ornaments yet.")
		return d, true
	case w.Goal > 0 && max(reached, played) >= w.Goal && w.Fault == "":
		d.Kinds = []string{practice.Alone, practice.Piano}
		d.Reason = c.Say("Clean at the goal tempo; now at the piano.")
		if played >= w.Goal {
			d.Reason = c.Say("Clean at the goal tempo, at the piano too.")
		}
		return d, true
	}
	if w.Goal > 0 {
		d.Percent = float64(tempo) / float64(w.Goal) * 100
		switch {
		case clean:
			d.Percent += up
		case still >= stillDays:
			d.Percent -= down
		}
		d.Percent = min(max(float64(int(d.Percent/percentStep+0.5)*percentStep), least), 100)
	}
	if step, ok := practice.StepFor(w.Fault); ok && step.Kind != "" {
		d.Kinds = append(d.Kinds, step.Kind)
	}
	for _, k := range []string{practice.Tap, practice.Alone, practice.Piano} {
		if len(d.Kinds) == 0 || d.Kinds[0] != k {
			d.Kinds = append(d.Kinds, k)
		}
	}
	d.Reason = words.Sentence(lesson.LeftAt(w.Fault, w.Where, c)) + " " +
		c.Count(still, "{n} day at {tempo}.", "{n} days at {tempo}.", "{tempo}", strconv.Itoa(tempo))
	return d, true
}

// lately is the tempo of the latest first round of a day, whether it was clean,
// and on how many days in a row it was the same.
func lately(days []class.Day) (tempo int, clean bool, still int) {
	for i := len(days) - 1; i >= 0; i-- {
		switch t := days[i].ColdTempo; {
		case t == 0:
		case tempo == 0:
			tempo, clean, still = t, days[i].ColdClean, 1
		case t == tempo:
			still++
		default:
			return tempo, clean, still
		}
	}
	return tempo, clean, still
}
