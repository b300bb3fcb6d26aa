package main

import (
	"agremens/game/inbox"
	"agremens/game/lesson"
	"agremens/realize/words"
	"agremens/web/dom"
)

// reportsHost is what the sheet of reports asks of the program.
type reportsHost interface {
	TakeReports(letters []string)
	NextTask(letters string) bool
	Unkept()
}

// reports is the teacher's sheet of what came back.
type reports struct {
	words    *words.Catalogue
	inbox    inbox.Inbox
	host     reportsHost
	openTask func()
}

func newReports(c *words.Catalogue, in inbox.Inbox, h reportsHost, openTask func()) *reports {
	r := &reports{c, in, h, openTask}
	dom.OnClick("open-reports", func() { r.shown("") })
	dom.OnClick("report-close", func() { dom.CloseSheet("reports") })
	dom.OnClick("report-take", func() {
		_, letters := lesson.Packets(dom.Value("report-paste"))
		if len(letters) == 0 {
			r.show(c.Say("The pasted text contains no report: a report's link contains “#report=”."))
			return
		}
		dom.SetValue("report-paste", "")
		h.TakeReports(letters)
	})
	dom.OnFile("report-files", func(name string, data []byte, err error) {
		if err != nil {
			r.show(c.Say("“{name}” could not be read: {error}.", "{name}", name, "{error}", c.Tell(err)))
			return
		}
		_, letters := lesson.Packets(string(data))
		if len(letters) == 0 {
			r.show(c.Say("“{name}” does not contain a report.", "{name}", name))
			return
		}
		h.TakeReports(letters)
	})
	dom.OnClick("report-clear", func() {
		r.kept(in.Clear())
		r.show(c.Say("All reports are cleared from this device."))
	})
	return r
}

func (r *reports) kept(err error) {
	if err != nil {
		r.host.Unkept()
	}
}

// shown shows the reports, and the sheet they stand on.
func (r *reports) shown(said string) {
	r.show(said)
	dom.OpenSheet("reports")
}

func (r *reports) show(said string) {
	dom.SetText("report-said", said)
	var cards []dom.Card
	for _, report := range r.inbox.Reports() {
		l := lesson.Read(report.Report, r.words)
		c := dom.Card{Key: report.Letters, Title: l.Heading, Lines: []string{l.Time, l.Cold, l.Left, l.Ask}, MoreTitle: r.words.Say("Day by day"), More: l.Days}
		if report.Packed != "" {
			c.Buttons = append(c.Buttons, dom.Button{Key: "next", Label: r.words.Say("Next task from this")})
		}
		c.Buttons = append(c.Buttons, dom.Button{Key: "remove", Label: r.words.Say("Remove")})
		cards = append(cards, c)
	}
	dom.SetDisabled("report-clear", len(cards) == 0)
	dom.SetCards("report-list", cards, func(letters, button string) {
		if button == "next" {
			r.next(letters)
			return
		}
		r.kept(r.inbox.Remove(letters))
		r.show(r.words.Say("Removed."))
	})
}

// next opens the sheet for the task that follows the one of a report.
func (r *reports) next(letters string) {
	if r.host.NextTask(letters) {
		dom.CloseSheet("reports")
		r.openTask()
	}
}
