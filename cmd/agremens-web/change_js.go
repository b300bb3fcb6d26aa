package main

import (
	"errors"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/music"
	"agremens/realize/words"
	"agremens/web/dom"
)

// shiftBy is how far one press moves the start of an ornament, in quarters.
var shiftBy = music.F(1, 8)

// previewInk draws in the colour of the text around.
var previewInk = func() (o engrave.SVGOptions) {
	for i := range o.Ink {
		o.Ink[i] = "currentColor"
	}
	return o
}()

// changesHost is what the sheet of a choice asks of the program.
type changesHost interface {
	OnDesk() *desk.Desk
	MayChoose() bool
	StopRound()
	Decided()
	Hear(percent float64)
	Status(string)
}

// changes is the sheet on which a choice is changed.
type changes struct {
	words *words.Catalogue
	host  changesHost
}

func newChanges(words *words.Catalogue, h changesHost) *changes {
	c := &changes{words, h}
	dom.OnClick("change-choice", func() {
		c.host.StopRound()
		c.fill()
		dom.Reveal("stage")
		dom.OpenSheet("change")
	})
	dom.OnClick("change-hear", func() { h.Hear(atTempo) })
	dom.OnClick("change-slowly", func() { h.Hear(slowly) })
	dom.OnSheetClosed("change", h.StopRound)
	dom.OnClick("take-along", func() {
		bars := c.host.OnDesk().TakeAlong()
		c.host.Decided()
		c.host.Status(c.words.Count(len(bars), "{n} similar place changed: bar {bars}.", "{n} similar places changed: bars {bars}.", "{bars}", strings.Join(bars, ", ")))
	})
	for id, e := range map[string]realize.Edit{
		"from-upper": {First: 1}, "from-main": {First: -1}, "from-lower": {First: -2},
		"one-fewer": {Alternations: -1}, "one-more": {Alternations: 1},
		"ending-on": {Ending: 1}, "ending-off": {Ending: -1},
		"upper-down": {Upper: -1}, "upper-up": {Upper: 1}, "lower-down": {Lower: -1}, "lower-up": {Lower: 1},
		"earlier": {Shift: shiftBy.Neg()}, "later": {Shift: shiftBy},
		"rhythm-even": {Rhythm: realize.EvenRhythm}, "rhythm-lean": {Rhythm: realize.LeanFirst}, "rhythm-hold": {Rhythm: realize.HoldLast},
	} {
		dom.OnClick(id, func() { c.try(c.host.OnDesk().Edit(e)) })
	}
	dom.OnClick("own-write", func() {
		each, err := music.ParseFrac(dom.Value("own-each"))
		if err != nil {
			return
		}
		where, _ := strconv.Atoi(dom.Value("own-where"))
		c.try(c.host.OnDesk().SetOwnNotes(dom.Value("own-notes"), each, realize.SmallPlace(where)))
	})
	dom.OnClick("own-keep", func() { c.try(c.host.OnDesk().SayWhy(dom.Value("own-why"), dom.Checked("own-edition"))) })
	dom.OnClick("own-finger", func() { c.try(c.host.OnDesk().SetFingers(dom.Value("own-fingers"))) })
	dom.OnChange("pass", c.fill)
	dom.OnChange("pass-choice", func() {
		pass, _ := strconv.Atoi(dom.Value("pass"))
		if i, err := strconv.Atoi(dom.Value("pass-choice")); err == nil {
			c.host.OnDesk().ChooseInPass(pass, i)
			c.try(nil)
		}
	})
	dom.OnClick("always", func() {
		c.host.OnDesk().Always()
		c.try(nil)
	})
	dom.OnClick("forget", func() {
		c.host.OnDesk().Forget()
		c.try(nil)
	})
	dom.OnClick("change-undo", func() {
		c.host.OnDesk().Undo()
		c.try(nil)
	})
	dom.OnClick("change-close", func() { dom.CloseSheet("change") })
	return c
}

// try shows what came of a change; a refused one leaves everything as it was.
func (c *changes) try(err error) {
	c.host.Decided()
	c.fill()
	if err != nil {
		dom.SetText("change-now", c.inWords(err))
	}
}

func (c *changes) inWords(err error) string {
	if errors.Is(err, realize.ErrEdit) {
		return c.words.Say("That would leave nothing to play here: {why}.", "{why}", c.words.Tell(err))
	}
	return words.Sentence(c.words.Tell(err))
}

// fill shows the choice as it is now.
func (c *changes) fill() {
	d := c.host.OnDesk()
	o, ok := d.Ornament()
	if !ok {
		dom.CloseSheet("change")
		return
	}
	w, _ := d.Sign()
	dom.SetText("change-name", w.Heading)
	dom.SetText("change-now", w.Notes)
	dom.SetText("change-warnings", strings.Join(w.Notices, " "))
	dom.SetDrawing("change-picture", string(engrave.SVG(engrave.Preview(d.Passage, d.Reading, o.ID, o.Chosen), previewInk)))
	why, edition, _ := d.Why()
	dom.SetValue("own-why", why)
	dom.SetChecked("own-edition", edition)
	dom.SetValue("own-fingers", d.Fingers())
	dom.SetDisabled("change-undo", !d.CanUndo())
	c.fillPasses(o)
}

// fillPasses offers another choice for the repeat where there is one.
func (c *changes) fillPasses(o *realize.Ornament) {
	times := c.host.OnDesk().Repeated()
	dom.SetHidden("passes", times < 2)
	if times < 2 {
		return
	}
	pass, err := strconv.Atoi(dom.Value("pass"))
	if err != nil || pass < 1 || pass > times {
		pass = 2
	}
	var passes, choices []dom.Option
	for i := 1; i <= times; i++ {
		passes = append(passes, dom.Option{Key: strconv.Itoa(i), Label: c.words.Say("time {n}", "{n}", strconv.Itoa(i))})
	}
	for i := range o.Choices {
		choices = append(choices, dom.Option{Key: strconv.Itoa(i), Label: o.Choices[i].Name + ", " + desk.NotesInWords(&o.Choices[i])})
	}
	dom.SetOptions("pass", passes, strconv.Itoa(pass))
	dom.SetOptions("pass-choice", choices, strconv.Itoa(o.ChosenIn(pass)))
}

// show says what can be done with the selected ornament's choice.
func (c *changes) show() {
	_, ok := c.host.OnDesk().Ornament()
	dom.SetHidden("elsewhere", !ok)
	dom.SetHidden("decide", !ok || !c.host.MayChoose())
	n := c.host.OnDesk().Alike()
	dom.SetHidden("take-along", n == 0)
	dom.SetText("take-along", c.words.Count(n, "Apply to {n} similar place", "Apply to {n} similar places"))
}
