package main

import (
	"agremens/game/conduct"
	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/game/look"
	"agremens/game/round"
	"agremens/game/stage"
	"agremens/realize/tap"
	"agremens/web/dom"
)

// staffHost is what the staff asks of the program.
type staffHost interface {
	OnDesk() *desk.Desk
	Selected()
}

// staff is what is drawn on the stage: the desk as a run or a page, and where
// it stands.
type staff struct {
	host   staffHost
	rounds *conduct.Conductor
	look   look.Look
	layout *engrave.Layout // the run
	marks  []engrave.Item  // the last round's taps on the layout in view
	ink    []engrave.Item  // the taps of the round that runs, as they are made
	wet    bool            // the page itself shows the last of them
	wide   int             // how far the run is pulled apart, times
	page   pageView
	camera camera
	glass  bool   // fingers may tap on the page
	tools  func() // shows how it is seen
}

func newStaff(l look.Look) *staff {
	s := &staff{look: l, wide: 1, glass: dom.Glass()}
	dom.OnStageClick(s.pick)
	dom.OnStageDrag(s.pull)
	dom.OnScroll(s.scrolled)
	dom.OnLook(func() {
		s.camera.themed = false
		stage.Refresh()
	})
	return s
}

// laid makes ready for another passage.
func (s *staff) laid() {
	s.camera.shown, s.camera.place, s.wide = nil, 0, 1
	s.page, s.marks = pageView{}, nil
}

// engrave lays out what is on the desk.
func (s *staff) engrave() {
	d := s.host.OnDesk()
	// One measure more, for the landing.
	o := engrave.Options{
		From: d.From, To: min(d.To+1, len(d.Passage.Measures)),
		Played: d.Ornaments && !s.rounds.Covered(), Open: d.Lines(),
	}
	s.layout = engrave.Run(d.Passage, d.Reading, o)
	if s.wide > 1 {
		o.PerQuarter = s.layout.PerQuarter * float64(s.wide)
		s.layout = engrave.Run(d.Passage, d.Reading, o)
	}
	s.page.stale, s.page.making = true, nil
	s.prepare()
}

// mark draws the taps of the last round on the layout in view.
func (s *staff) mark(l *engrave.Layout) {
	s.marks = nil
	if marks := s.rounds.Marks; len(marks) > 0 {
		s.marks = l.MarkItems(taps(marks))
	}
}

// struck draws a tap at once, where the line stood as it was made. Where the
// staff rests there is no line, and nothing may tell whether the tap was in
// time: taps stand in a row then.
func (s *staff) struck(t tap.Tap) {
	at, ok := s.rounds.PlaceAt(t.At)
	if !ok || s.layout == nil {
		return
	}
	x := s.layout.X(at.Quarters)
	if s.rounds.Rests() {
		x = s.camera.scroll + s.layout.HeadWidth + look.Margin + restGap*float64(len(s.ink)+1)
	}
	dot := s.layout.Struck(x, int(t.Hand)+1)
	s.ink = append(s.ink, dot)
	// The page's own dot is seen a frame before the staff is drawn with it.
	if c := &s.camera; c.shown == s.layout {
		box, unit := dot.Bounds(), c.scale/dom.DevicePixelRatio()
		dom.Ink(((box.Left+box.Right)/2-c.seen.X)*unit, ((box.Top+box.Bottom)/2-c.seen.Y)*unit, (box.Right-box.Left)*unit)
		s.wet = true
	}
	stage.Refresh()
}

// restGap is how far apart taps stand that tell no time, in staff spaces.
const restGap = 1.4

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

// mostWide is how far a run can be pulled apart: at eight times, ten
// milliseconds of a fast ornament can be seen.
const mostWide = 8

// setWide pulls the notes of the run apart, so that marks can be read to the
// hundredth of a second.
func (s *staff) setWide(times int) {
	times = min(max(times, 1), mostWide)
	if times == s.wide || s.rounds.Round != nil {
		return
	}
	s.wide = times
	s.engrave()
	s.tools()
	stage.Refresh()
}

// toggleLine opens or closes the line as played above the selected sign.
func (s *staff) toggleLine() {
	d := s.host.OnDesk()
	d.SetLine(!d.LineOpen())
	s.engrave()
	s.host.Selected()
}

// dress takes the device's wishes and the user's into account.
func (s *staff) dress() {
	c := &s.camera
	dark, contrast := s.look.Dark(dom.PreferDark()), s.look.HighContrast(dom.MoreContrast())
	c.theme, c.still, c.themed = stage.ThemeFor(dark, contrast), s.look.Still(dom.ReducedMotion()), true
	s.look.Text = dom.TextSize()
	dom.SetLook(dark, contrast)
}

// toStart goes to the beginning of the run.
func (s *staff) toStart() { s.camera.scroll = s.layout.Left - s.layout.HeadWidth - look.Margin }

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
