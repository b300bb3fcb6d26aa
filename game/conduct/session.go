package conduct

import (
	"strconv"

	"agremens/game/calibration"
	"agremens/game/desk"
	"agremens/game/practice"
	"agremens/game/round"
)

// startKind begins a session of a kind.
func (c *Conductor) startKind(kind string) {
	if c.begun(kind, nil, practice.Silence) {
		c.page.Big(kind == practice.Clap)
		c.nextStep()
	}
}

// begun makes a session of a kind; by is what listens, nil nothing, while the
// page sounds something.
func (c *Conductor) begun(kind string, by Ear, meanwhile practice.Meanwhile) bool {
	m := practice.On(c.Desk)
	m.Heard, m.Meanwhile = by != nil, meanwhile
	m.Names = c.Players
	m.Seed = uint64(c.time.Now() * 1000)
	m.Lead = c.sound.Lead()
	m.Settings.Keys = c.with == OnMIDI
	s, err := practice.Start(kind, m)
	if err != nil {
		c.page.Say(c.inWords(err))
		return false
	}
	c.Session, c.Next, c.Said = s, practice.Next{}, ""
	c.clear()
	if s.Kind.Covered {
		c.host.Changed()
	}
	return true
}

// nextStep does the session's next step, or shows what came of it all.
func (c *Conductor) nextStep() {
	step, ok := c.Session.Step()
	if !ok {
		c.endSession()
		return
	}
	if step.Act == practice.Play {
		c.listenOn()
		return
	}
	if !step.Act.Sounds() {
		if step.Act == practice.Ask {
			c.Said = "" // what the answer before revealed
		}
		c.setState(round.Ready)
		c.page.Status("")
		c.page.Show()
		c.page.Asked()
		c.page.Refresh()
		return
	}
	plan, err := c.Session.Plan(Rate)
	if err != nil {
		c.Session = nil
		c.page.Big(false)
		c.setState(round.Ready)
		c.page.Say(c.inWords(err))
		c.host.Changed()
		return
	}
	if step.Still {
		c.page.Still()
	}
	c.await(plan)
	if c.Rungs = c.Session.Rungs(); c.Rungs != nil {
		c.page.Show()
	}
}

// endSession shows what came of a session, and keeps it.
func (c *Conductor) endSession() {
	s := c.Session
	c.Session = nil
	c.page.Big(false)
	c.Rungs = s.Rungs()
	o := s.Outcome(c.clean.on(c.place()))
	c.clean.n, c.Next = o.Row, o.Next
	if climb, ok := s.Climb(); ok && climb.Round > 0 {
		c.Desk.SetBeats(climb.Tempo) // it goes on from there
		c.host.Keep()
	}
	if s.Kind.Covered {
		c.host.Changed()
	}
	if c.Said != "" {
		o.Words.Notes = append([]string{c.Said}, o.Words.Notes...)
		c.Said = ""
	}
	c.Result = o.Words
	if o.Result != nil {
		c.judged(o, s)
	}
	c.page.Status("")
	if o.Words.Summary != "" || o.Words.Figures != "" {
		c.setState(round.Result)
	} else {
		c.setState(round.Ready)
	}
	for i := range o.Records {
		r := &o.Records[i]
		r.Judged = r.Judged && (s.Hears() || c.exact())
	}
	c.host.Record(o.Records, c.with)
	c.page.Show()
	c.page.Finished()
	c.page.Refresh()
}

// judged adds what the machine itself knows about a judgement.
func (c *Conductor) judged(o practice.Outcome, s *practice.Session) {
	if o.Result.Spoilt != "" {
		return
	}
	apart := s.Kind.Key == practice.Two
	if s.Hears() {
		c.mark(o, apart)
		return
	}
	if hint := calibration.Hint(o.Result, c.sound.Measured(), c.words); hint != "" {
		c.Result.Notes = append(c.Result.Notes, hint)
	}
	if !c.exact() {
		c.Result = desk.Unjudged(c.Result, c.words)
		c.clean.n = 0
		return
	}
	c.mark(o, apart)
}

// mark puts what was tapped or played on the staff.
func (c *Conductor) mark(o practice.Outcome, apart bool) {
	if o.Marks == nil {
		return
	}
	c.Judged = &Judged{o.Marks, o.Result, apart}
	c.Marks = o.Marks.Marks()
	c.page.Marked()
	if keys := o.Marks.Keys().Words(o.Marks.Lean(), c.words); keys != "" {
		c.Result.Notes = append(c.Result.Notes, keys)
	}
}

// exact reports whether the clock can be judged by.
func (c *Conductor) exact() bool { return c.sound.Clock().Status().Exact }

// row is how many rounds in a row were clean, and the passage and bars they
// were on.
type row struct {
	n     int
	place string
}

// on is the row on a place: another place begins another row.
func (r *row) on(place string) int {
	if r.place != place {
		*r = row{place: place}
	}
	return r.n
}

func (c *Conductor) place() string { return c.Desk.ID + " " + c.Desk.Bars() }

// Step is the step of the session under way.
func (c *Conductor) Step() (*practice.Step, bool) {
	if c.Session == nil {
		return nil, false
	}
	return c.Session.Step()
}

// Covered reports whether what is played must not be seen now.
func (c *Conductor) Covered() bool { return c.Session != nil && c.Session.Kind.Covered }

// Rests reports whether the staff stays at rest while the step sounds.
func (c *Conductor) Rests() bool {
	step, ok := c.Step()
	return ok && step.Still
}

// Clapping reports whether everybody claps to a big staff.
func (c *Conductor) Clapping() bool {
	return c.Session != nil && c.Session.Kind.Key == practice.Clap
}

// stepLine is what is to be done now, for the status line; a plain round needs
// none.
func (c *Conductor) stepLine() string {
	step, ok := c.Step()
	if !ok || c.Session.Kind.Key == practice.Tap {
		return ""
	}
	at, of := c.Session.Place()
	if of == 1 || step.Act == practice.Loop || c.Session.Kind.Covered {
		return step.Line + "."
	}
	return c.words.Say("{n} of {all}. {step}.", "{n}", strconv.Itoa(at), "{all}", strconv.Itoa(of), "{step}", step.Line)
}
