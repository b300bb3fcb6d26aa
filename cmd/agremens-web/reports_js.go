package main

import (
	"slices"
	"strings"

	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/web/dom"
)

// reportsKey names the reports in the browser's storage, a line each.
const reportsKey = "agremens.reports"

// maxReports is how many reports are kept, the newest.
const maxReports = 200

// bindReports connects the teacher's sheet of what came back.
func (a *app) bindReports() {
	dom.OnClick("open-reports", func() { a.showReports(""); dom.OpenSheet("reports") })
	dom.OnClick("report-close", func() { dom.CloseSheet("reports") })
	dom.OnClick("report-take", func() {
		text := dom.Value("report-paste")
		_, reports := lesson.Packets(text)
		if len(reports) == 0 {
			a.showReports(a.words.Say("The pasted text contains no report: a report's link contains “#report=”."))
			return
		}
		dom.SetValue("report-paste", "")
		a.takeReports(reports)
	})
	dom.OnFile("report-files", func(name string, data []byte, err error) {
		if err != nil {
			a.showReports(a.words.Say("“{name}” could not be read: {error}.", "{name}", name, "{error}", a.words.Tell(err)))
			return
		}
		_, reports := lesson.Packets(string(data))
		if len(reports) == 0 {
			a.showReports(a.words.Say("“{name}” does not contain a report.", "{name}", name))
			return
		}
		a.takeReports(reports)
	})
	dom.OnClick("report-clear", func() {
		if err := dom.Forget(reportsKey); err != nil {
			a.unkept()
		}
		a.showReports(a.words.Say("All reports are cleared from this device."))
	})
}

func keptReports() []string {
	text, _, _ := dom.Load(reportsKey)
	return strings.Fields(text)
}

// takeReports puts reports that came back beside those that are here, and
// shows them all.
func (a *app) takeReports(letters []string) {
	kept := keptReports()
	said, taken := "", 0
	for _, l := range letters {
		r, err := packet.DecodeReport(l)
		if err != nil {
			said = a.words.Say("One report could not be opened. {why}", "{why}", packet.Words(err))
			continue
		}
		taken++
		// A later report of the same task by the same student takes the place
		// of the earlier one.
		kept = slices.DeleteFunc(kept, func(old string) bool {
			o, err := packet.DecodeReport(old)
			return err != nil || o.Name == r.Name && o.Task == r.Task && o.Bars == r.Bars
		})
		kept = append([]string{l}, kept...)
	}
	if len(kept) > maxReports {
		kept = kept[:maxReports]
	}
	if taken > 0 {
		if err := dom.Store(reportsKey, strings.Join(kept, "\n")); err != nil {
			a.unkept()
		}
		said = strings.TrimSpace(a.words.Count(taken, "{n} taken.", "{n} taken.") + " " + said)
	}
	a.showReports(said)
	dom.OpenSheet("reports")
}

func (a *app) showReports(said string) {
	dom.SetText("report-said", said)
	var cards []dom.Card
	for _, letters := range keptReports() {
		r, err := packet.DecodeReport(letters)
		if err != nil {
			continue
		}
		l := lesson.Read(r, a.words)
		c := dom.Card{Key: letters, Title: l.Heading, Lines: []string{l.Time, l.Cold, l.Left, l.Ask}, MoreTitle: a.words.Say("Day by day"), More: l.Days}
		if r.Packed != "" {
			c.Buttons = append(c.Buttons, dom.Button{Key: "next", Label: a.words.Say("Next task from this")})
		}
		c.Buttons = append(c.Buttons, dom.Button{Key: "remove", Label: a.words.Say("Remove")})
		cards = append(cards, c)
	}
	dom.SetDisabled("report-clear", len(cards) == 0)
	dom.SetCards("report-list", cards, func(card, button string) {
		if button == "next" {
			a.nextTask(card)
			return
		}
		kept := slices.DeleteFunc(keptReports(), func(l string) bool { return l == card })
		if err := dom.Store(reportsKey, strings.Join(kept, "\n")); err != nil {
			a.unkept()
		}
		a.showReports(a.words.Say("Removed."))
	})
}

// nextTask lays the task that a report carries on the teacher's desk and opens
// the sheet for the next one.
func (a *app) nextTask(letters string) {
	r, err := packet.DecodeReport(letters)
	if err != nil || !a.openTask(r.Packed) {
		return
	}
	dom.CloseSheet("reports")
	t := a.homework.Task
	a.leaveTask()
	_ = dom.Store(wishKey, t.Words)
	_ = dom.Store(wishKinds, strings.Join(t.Kinds, " "))
	a.openTaskSheet()
}
