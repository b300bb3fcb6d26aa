package main

import (
	"agremens/game/studio"
	"agremens/realize/words"
	"agremens/web/dom"
)

// dayHost is what the ten minutes ask of the program.
type dayHost interface{ OnTask() bool }

// days leads through ten minutes of practice.
type days struct {
	words *words.Catalogue
	today *studio.Today
	host  dayHost
	strip *strip
}

func newDay(c *words.Catalogue, t *studio.Today, h dayHost, s *strip, openLog, toPractice func()) *days {
	d := &days{c, t, h, s}
	dom.OnClick("start-day", func() {
		dom.CloseMenus()
		toPractice()
		t.Begin()
		dom.Focus("day-go")
	})
	dom.OnClick("day-go", t.Go)
	dom.OnClick("day-stop", t.End)
	dom.OnClick("day-log", func() { dom.CloseSheet("day-end"); openLog() })
	dom.OnClick("day-close", func() { dom.CloseSheet("day-end") })
	dom.OnSheetClosed("day-end", func() { t.PutAway(whole(dom.Value("day-piano"))) })
	return d
}

// show shows where the day stands.
func (d *days) show() {
	dom.SetHidden("day-strip", !d.today.On || d.today.Over())
	dom.SetText("day-line", d.today.Line(d.words))
	dom.SetText("day-go", d.today.Button(d.words))
	dom.SetHidden("day-stop", d.host.OnTask()) // the student's page has its own end
	d.strip.show()
}

// open opens the last page of a day.
func (d *days) open() {
	done, left := d.today.Told()
	dom.SetText("day-end-text", done)
	dom.SetText("day-end-next", left)
	dom.SetValue("day-piano", "")
	dom.OpenSheet("day-end")
}
