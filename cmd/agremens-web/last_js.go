package main

import (
	"strconv"
	"strings"

	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/web/dom"
)

// openLast is the last page of a task: what was done, and the report.
func (a *app) openLast() {
	if a.homework == nil {
		return
	}
	a.rounds.Stop()
	dom.SetText("last-said", "")
	dom.SetHidden("last-by-hand", true)
	dom.SetValue("last-who", a.log.player)
	dom.SetValue("last-piano", "")
	a.makeReport()
	dom.OpenSheet("last")
}

// makeReport writes the report anew. Rounds of this task that nobody was named
// for become the named one's.
func (a *app) makeReport() {
	name := diary.Name(dom.Value("last-who"))
	id := lesson.DeskID(a.homework.Task)
	if name != "" && name != a.log.player {
		a.write(func(d *diary.Diary) { d.Claim(name, id) })
		a.setPlayer(name)
	}
	r := lesson.Report(a.log.diary, a.log.player, a.homework.Task)
	a.report = packet.EncodeReport(r)
	l := lesson.Read(r, a.words)
	dom.SetText("last-time", l.Time)
	dom.SetText("last-cold", l.Cold)
	dom.SetText("last-left", l.Left)
	_, question, _ := strings.Cut(l.Ask, ": ")
	dom.SetText("last-ask", a.words.Say("For anyone listening at home, ask: {question}", "{question}", question))
	svg, err := packet.Square(a.reportLink())
	dom.SetHidden("last-code", err != nil)
	if err == nil {
		dom.SetDrawing("last-square", string(svg))
	}
}

// reportLink is where the report opens: where the task was opened, since the
// teacher's program lives there too.
func (a *app) reportLink() string {
	return lesson.Link(dom.Address(), packet.ReportKind, a.report)
}

// keepPiano adds the minutes at the piano that were told.
func (a *app) keepPiano() {
	minutes, err := strconv.Atoi(strings.TrimSpace(dom.Value("last-piano")))
	if err != nil || minutes < 0 || minutes > 240 {
		dom.SetText("last-said", a.words.Say("The minutes at the piano are a number up to 240."))
		return
	}
	if minutes > 0 {
		a.addPiano(minutes)
	}
	dom.SetValue("last-piano", "")
	dom.SetText("last-said", a.words.Count(minutes, "{n} minute at the piano is in the report.", "{n} minutes at the piano are in the report."))
	a.makeReport()
}
