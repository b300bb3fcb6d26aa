package main

import (
	"strconv"

	"agremens/game/engrave"
	"agremens/game/look"
	"agremens/game/round"
	"agremens/game/stage"
	"agremens/realize"
	"agremens/web/dom"
)

// lookKey is the look's name in the browser's storage; boot.js reads it too.
const lookKey = "agremens.look"

// mostWide is how far a run can be pulled apart: at eight times, ten
// milliseconds of a fast ornament can be seen.
const mostWide = 8

// pageView is the passage as a page.
type pageView struct {
	layout *engrave.Layout // nil before one is made
	width  float64         // it is broken to
	pale   []engrave.Box   // the bars that are not at work
	stale  bool            // the desk has changed since
	making *pageTask       // another is on its way
}

// pageTask is a page that is being laid out.
type pageTask struct{ width float64 }

// pageAtOnce is how many measures are laid out between two frames; more take
// their time beside them.
const pageAtOnce = 48

// onPage reports whether the page is on the stage: while it sounds, and until
// then from the moment it was asked for, it is the run.
func (a *app) onPage() bool {
	return a.look.Page && !a.rounds.Sounding() && !a.rounds.Covered()
}

// pageLayout breaks the whole passage to a width, once. A long one is laid out
// beside the frames: until it is there, it returns the page as it was, or nil.
func (a *app) pageLayout(width float64) *engrave.Layout {
	p := &a.page
	if p.layout != nil && p.width == width && !p.stale || p.making != nil && p.making.width == width {
		return p.layout
	}
	p.making = &pageTask{width}
	if len(a.desk.Passage.Measures) > pageAtOnce {
		go a.makePage(p.making, dom.Breathe(turnMS))
	} else {
		a.makePage(p.making, nil)
	}
	return p.layout
}

// makePage lays the desk's passage out and shows it, if it is still wanted.
func (a *app) makePage(t *pageTask, yield func()) {
	d := a.desk
	l := engrave.Page(d.Passage, d.Reading, t.width, engrave.Options{
		Played: d.Ornaments && !a.rounds.Covered(), Open: d.Lines(), Title: true, Yield: yield,
	})
	if p := &a.page; p.making == t {
		*p = pageView{layout: l, width: t.width, pale: l.Outside(p.pale[:0], d.From, d.To)}
		stage.Refresh()
	}
}

// engraveAll lays out what is on the desk.
func (a *app) engraveAll() {
	// One measure more, for the landing.
	o := engrave.Options{
		From: a.desk.From, To: min(a.desk.To+1, len(a.desk.Passage.Measures)),
		Played: a.desk.Ornaments && !a.rounds.Covered(), Open: a.desk.Lines(),
	}
	a.layout = engrave.Run(a.desk.Passage, a.desk.Reading, o)
	if a.wide > 1 {
		o.PerQuarter = a.layout.PerQuarter * float64(a.wide)
		a.layout = engrave.Run(a.desk.Passage, a.desk.Reading, o)
	}
	a.page.stale, a.page.making = true, nil
	a.camera.prepare(a)
}

// mark draws the taps of the last round on the layout in view.
func (a *app) mark(l *engrave.Layout) {
	a.marks = nil
	if marks := a.rounds.Marks; len(marks) > 0 {
		a.marks = l.MarkItems(taps(marks))
	}
}

// taps turns the marks of a round into those of the staff.
func taps(marks []round.Mark) []engrave.Tap {
	out := make([]engrave.Tap, len(marks))
	for i, m := range marks {
		out[i] = engrave.Tap{
			Note: m.Note, Ornament: m.Ornament, Index: m.Index,
			Wanted: m.Wanted, At: m.At, Missed: m.Missed, Staff: int(m.Hand) + 1,
		}
	}
	return out
}

// bindLook connects how the staff is seen.
func (a *app) bindLook() {
	saved, _, _ := dom.Load(lookKey)
	a.look = look.Restore(saved)
	if saved == "" {
		a.look.Notes = look.Customary(a.words.Language())
	}
	a.wide = 1
	for id, name := range map[string]string{"paper": "paper", "contrast": "contrast", "motion": "motion"} {
		dom.OnChange(id, func() { a.setLook(name, dom.Value(id)) })
	}
	dom.OnChange("show-fingers", func() {
		value := "on"
		if !dom.Checked("show-fingers") {
			value = "off"
		}
		a.setLook("fingers", value)
		a.show()
	})
	for _, id := range []string{"note-names", "student-notes"} {
		dom.OnChange(id, func() { a.setNotes(dom.Value(id)) })
	}
	dom.OnInput("staff-size", func() { a.setLook("size", dom.Value("staff-size")) })
	dom.OnClick("page-view", func() {
		view := "page"
		if a.look.Page {
			view = "run"
		}
		a.setLook("view", view)
	})
	dom.OnClick("line", a.toggleLine)
	dom.OnClick("wider", func() { a.setWide(a.wide * 2) })
	dom.OnClick("narrower", func() { a.setWide(a.wide / 2) })
	dom.OnScroll(stage.Refresh)
}

func (a *app) setLook(name, value string) {
	a.look.Set(name, value)
	_ = dom.Store(lookKey, a.look.Save()) // where nothing can be kept the desk has said so
	a.camera.themed = false
	a.showLook()
	stage.Refresh()
}

// dress takes the device's wishes and the user's into account.
func (a *app) dress() {
	c := &a.camera
	dark, contrast := a.look.Dark(dom.PreferDark()), a.look.HighContrast(dom.MoreContrast())
	c.theme, c.still, c.themed = stage.ThemeFor(dark, contrast), a.look.Still(dom.ReducedMotion()), true
	dom.SetLook(dark, contrast)
}

// toggleLine opens or closes the line as played above the selected sign.
func (a *app) toggleLine() {
	a.desk.SetLine(!a.desk.LineOpen())
	a.engraveAll()
	a.show()
	a.keep()
	stage.Refresh()
}

// setWide pulls the notes of the run apart, so that marks can be read to the
// hundredth of a second.
func (a *app) setWide(times int) {
	times = min(max(times, 1), mostWide)
	if times == a.wide || a.rounds.Round != nil {
		return
	}
	a.wide = times
	a.engraveAll()
	a.showLook()
	stage.Refresh()
}

func (a *app) showLook() {
	l := &a.look
	dom.SetValue("staff-size", strconv.Itoa(l.Percent()))
	dom.SetText("staff-percent", strconv.Itoa(l.Percent())+" %")
	dom.SetValue("paper", l.Paper)
	dom.SetValue("contrast", l.Contrast)
	dom.SetValue("motion", l.Motion)
	dom.SetChecked("show-fingers", !l.NoFingers)
	dom.SetValue("note-names", l.Notes.Key())
	dom.SetValue("student-notes", l.Notes.Key())
	dom.SetAttr("page-view", "aria-pressed", strconv.FormatBool(l.Page))
	dom.SetAttr("line", "aria-pressed", strconv.FormatBool(a.desk.LineOpen()))
	_, some := a.desk.Ornament()
	dom.SetDisabled("line", !some || !a.desk.Ornaments)
	dom.SetText("width", "× "+strconv.Itoa(a.wide))
	dom.SetHidden("nearer", l.Page)
	dom.SetDisabled("wider", a.wide >= mostWide)
	dom.SetDisabled("narrower", a.wide <= 1)
}

// unit is the size of small pictures, in CSS pixels a staff space.
const unit = 5

// picture turns a small layout into a picture of the page.
func picture(l *engrave.Layout) *dom.Picture {
	if len(l.Items) == 0 {
		return nil
	}
	const pad = 0.5
	return &dom.Picture{
		Paths: engrave.Paths(l), Unit: unit,
		Left: l.Left - pad, Top: l.Top - pad, Width: l.Right - l.Left + 2*pad, Height: l.Bottom - l.Top + 2*pad,
	}
}

// pictures are those of the chosen sign and its choices, drawn once.
type pictures struct {
	reading  *realize.Reading
	ornament string
	choices  []*dom.Picture
}

// showPrinted draws the chosen sign as it is printed, and its choices.
func (a *app) showPrinted() {
	o, _ := a.desk.Ornament()
	p := &a.pictures
	if p.reading == a.desk.Reading && p.ornament == o.ID {
		return
	}
	p.reading, p.ornament, p.choices = a.desk.Reading, o.ID, make([]*dom.Picture, len(o.Choices))
	dom.SetPicture("sign-picture", picture(engrave.Printed(a.desk.Passage, a.desk.Reading, o.ID)))
}

// preview draws one way to play the chosen sign.
func (a *app) preview(choice int) *dom.Picture {
	p := &a.pictures
	if p.choices[choice] == nil {
		p.choices[choice] = picture(engrave.Preview(a.desk.Passage, a.desk.Reading, p.ornament, choice))
	}
	return p.choices[choice]
}
