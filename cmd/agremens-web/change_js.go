package main

import (
	"errors"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/realize"
	"agremens/realize/music"
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

// bindChange connects the sheet on which a choice is changed.
func (a *app) bindChange() {
	dom.OnClick("change-choice", func() {
		a.rounds.Stop()
		a.fillChange()
		dom.OpenSheet("change")
	})
	dom.OnClick("take-along", func() {
		n := a.desk.TakeAlong()
		a.decided()
		a.status(a.words.Count(n, "{n} similar place changed.", "{n} similar places changed."))
	})
	for id, e := range map[string]realize.Edit{
		"from-upper": {First: 1}, "from-main": {First: -1}, "from-lower": {First: -2},
		"one-fewer": {Alternations: -1}, "one-more": {Alternations: 1},
		"ending-on": {Ending: 1}, "ending-off": {Ending: -1},
		"upper-down": {Upper: -1}, "upper-up": {Upper: 1}, "lower-down": {Lower: -1}, "lower-up": {Lower: 1},
		"earlier": {Shift: shiftBy.Neg()}, "later": {Shift: shiftBy},
		"rhythm-even": {Rhythm: realize.EvenRhythm}, "rhythm-lean": {Rhythm: realize.LeanFirst}, "rhythm-hold": {Rhythm: realize.HoldLast},
	} {
		dom.OnClick(id, func() { a.tryChange(a.desk.Edit(e)) })
	}
	dom.OnClick("own-write", func() {
		each, err := music.ParseFrac(dom.Value("own-each"))
		if err != nil {
			return
		}
		where, _ := strconv.Atoi(dom.Value("own-where"))
		a.tryChange(a.desk.SetOwnNotes(dom.Value("own-notes"), each, realize.SmallPlace(where)))
	})
	dom.OnClick("own-keep", func() { a.tryChange(a.desk.SayWhy(dom.Value("own-why"), dom.Checked("own-edition"))) })
	dom.OnClick("own-finger", func() { a.tryChange(a.desk.SetFingers(dom.Value("own-fingers"))) })
	dom.OnChange("pass", a.fillChange)
	dom.OnChange("pass-choice", func() {
		pass, _ := strconv.Atoi(dom.Value("pass"))
		if i, err := strconv.Atoi(dom.Value("pass-choice")); err == nil {
			a.desk.ChooseInPass(pass, i)
			a.tryChange(nil)
		}
	})
	dom.OnClick("always", func() {
		a.desk.Always()
		a.tryChange(nil)
	})
	dom.OnClick("forget", func() {
		a.desk.Forget()
		a.tryChange(nil)
	})
	dom.OnClick("change-undo", func() {
		a.desk.Undo()
		a.tryChange(nil)
	})
	dom.OnClick("change-close", func() { dom.CloseSheet("change") })
}

// decided shows and sounds what was decided.
func (a *app) decided() {
	a.changed()
	a.rounds.Resound()
}

// tryChange shows what came of a change; a refused one leaves everything as it was.
func (a *app) tryChange(err error) {
	a.decided()
	a.fillChange()
	if err != nil {
		dom.SetText("change-now", a.changeInWords(err))
	}
}

func (a *app) changeInWords(err error) string {
	if errors.Is(err, realize.ErrEdit) {
		return a.words.Say("That would leave nothing to play here: {why}.", "{why}", a.words.Tell(err))
	}
	return sentence(a.words.Tell(err))
}

// fillChange shows the choice as it is now.
func (a *app) fillChange() {
	d := a.desk
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
	a.fillPasses(o)
}

// fillPasses offers another choice for the repeat where there is one.
func (a *app) fillPasses(o *realize.Ornament) {
	times := a.desk.Repeated()
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
		passes = append(passes, dom.Option{Key: strconv.Itoa(i), Label: a.words.Say("time {n}", "{n}", strconv.Itoa(i))})
	}
	for i := range o.Choices {
		choices = append(choices, dom.Option{Key: strconv.Itoa(i), Label: o.Choices[i].Name + ", " + desk.NotesInWords(&o.Choices[i])})
	}
	dom.SetOptions("pass", passes, strconv.Itoa(pass))
	dom.SetOptions("pass-choice", choices, strconv.Itoa(o.ChosenIn(pass)))
}

// showDecide says what can be done with the selected ornament's choice.
func (a *app) showDecide() {
	_, ok := a.desk.Ornament()
	dom.SetHidden("sign-elsewhere", !ok)
	dom.SetHidden("decide", !ok || !a.mayChoose())
	n := a.desk.Alike()
	dom.SetHidden("take-along", n == 0)
	dom.SetText("take-along", a.words.Count(n, "Apply to {n} similar place", "Apply to {n} similar places"))
}
