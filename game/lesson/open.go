package lesson

import (
	"errors"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/realize"
	"agremens/realize/codec/packet"
	"agremens/realize/score"
	"agremens/realize/words"
)

// Homework is a task laid out for the student.
type Homework struct {
	Task packet.Task
	Desk *desk.Desk
	// Free are the principals of the ornaments that are the student's to choose.
	Free map[score.ID]bool
}

// ErrScore says that a task's score does not open.
var ErrScore = errors.New("lesson: the score inside the task does not open")

// DeskID is the passage id of a task on a desk.
func DeskID(t packet.Task) string { return "task-" + t.ID() }

// Open lays a task on a desk. said is what could not be restored, in words;
// instruments are the sounds this program has.
func Open(t packet.Task, instruments []string, c *words.Catalogue) (h *Homework, said []string, err error) {
	p, err := passage(t)
	if err != nil {
		return nil, nil, err
	}
	base := taste(t)
	bare := realize.Read(p, base)
	h = &Homework{Task: t, Free: map[score.ID]bool{}}
	var passes []packet.Decision
	for _, d := range t.Decisions {
		if d.Ornament >= len(bare.Ornaments) {
			said = append(said, c.Say("One decision refers to an ornament that is not there."))
			continue
		}
		o := &bare.Ornaments[d.Ornament]
		if d.Own != "" {
			own, err := realize.ParseOwn(d.Own)
			if err != nil {
				said = append(said, c.Say("The teacher's own version of the ornament in bar {bar} could not be read.", "{bar}", p.Measures[o.Measure].Number))
				continue
			}
			base = base.WithOwn(o.Note, own)
			continue
		}
		// What is no longer among the few that are offered is offered once it is chosen.
		if !hasChoice(o, d.Choice) && !hasChoice(&realize.Read(p, base.Choose(o.Note, d.Choice)).Ornaments[d.Ornament], d.Choice) {
			said = append(said, c.Say("This program has no “{choice}” for the ornament in bar {bar}; it uses its own suggestion there.", "{choice}", d.Choice, "{bar}", p.Measures[o.Measure].Number))
			continue
		}
		if d.Pass > 0 {
			passes = append(passes, d)
			continue
		}
		base = base.Choose(o.Note, d.Choice)
	}
	// What is chosen for every pass would take back what is for one.
	for _, d := range passes {
		base = base.ChooseInPass(bare.Ornaments[d.Ornament].Note, d.Pass, d.Choice)
	}
	for _, f := range t.Fingers {
		if f.Ornament < len(bare.Ornaments) {
			base = base.WithFingers(bare.Ornaments[f.Ornament].Note, f.Choice, strings.Fields(f.Fingers))
		}
	}
	for _, i := range t.Free {
		if i < len(bare.Ornaments) {
			h.Free[bare.Ornaments[i].Note] = true
		}
	}
	for _, name := range t.Unread {
		said = append(said, unread(name, c))
	}
	base.Words, base.Taught = c, true
	h.Desk = desk.New(DeskID(t), p, base)
	said = append(said, h.Desk.Apply(settings(t), instruments)...)
	if t.Percent != 0 {
		h.Desk.SetPercent(t.Percent)
	}
	return h, said, nil
}

// unread says what is in place of a number that made no sense.
func unread(name string, c *words.Catalogue) string {
	switch name {
	case packet.Goal:
		return c.Say("The goal tempo in this task makes no sense; the score's own tempo is the goal.")
	case packet.Percent:
		return c.Say("The tempo to begin with in this task makes no sense; practice begins at the goal tempo.")
	case packet.Rate:
		return c.Say("The number of notes per second in this task makes no sense; a student's usual speed is assumed.")
	}
	return c.Say("The pitch in this task makes no sense; the usual one is taken.")
}

func hasChoice(o *realize.Ornament, key string) bool {
	for i := range o.Choices {
		if o.Choices[i].Key == key {
			return true
		}
	}
	return false
}

// settings are the task's as an address would name them.
func settings(t packet.Task) map[string]string {
	q := map[string]string{}
	for name, value := range map[string]string{"bars": t.Bars, "hand": t.Hand, "play": t.Hear, "follow": t.Follow, "instrument": t.Instrument, "tuning": t.Tuning} {
		if value != "" {
			q[name] = value
		}
	}
	if t.Pitch != 0 {
		q["pitch"] = strconv.FormatFloat(t.Pitch, 'g', 6, 64)
	}
	return q
}

// Words puts an error of [Open] into a sentence.
func Words(err error, c *words.Catalogue) string {
	if errors.Is(err, ErrScore) {
		return c.Say("The score inside it does not open here: please have it made again.")
	}
	return c.Tell(err)
}
