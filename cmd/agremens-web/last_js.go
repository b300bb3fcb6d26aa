package main

import (
	"strconv"
	"strings"

	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/realize/words"
	"agremens/web/dom"
)

// lastHost is what the end of a task asks of the program.
type lastHost interface {
	Task() *lesson.Homework
	Report(name string) packet.Report
	LeaveTask()
	StopRound()
	Player() string
	AddPiano(minutes int)
}

// last is the last page of a task: what was done, and the report.
type last struct {
	words  *words.Catalogue
	host   lastHost
	report string // what the student sends back, in letters
}

func newLast(c *words.Catalogue, h lastHost) *last {
	l := &last{words: c, host: h}
	dom.OnClick("last-desk", func() { dom.CloseSheet("last"); h.LeaveTask() })
	dom.OnClick("last-close", func() { dom.CloseSheet("last") })
	dom.OnChange("last-who", l.make)
	dom.OnChange("last-piano", l.keepPiano)
	dom.OnClick("last-copy", func() { copyLink("last", l.link(), c) })
	dom.OnClick("last-share", func() { share("last", h.Task().Task.Title, l.link(), c) })
	dom.OnClick("last-file", func() {
		name := lesson.FileName(c.Say("report"), dom.Value("last-who"), h.Task().Task.Title)
		saveFile("last-said", name, lesson.File(packet.ReportKind, l.report), c)
	})
	dom.SetHidden("last-share", !dom.CanShare())
	return l
}

func (l *last) open() {
	if l.host.Task() == nil {
		return
	}
	l.host.StopRound()
	dom.SetText("last-said", "")
	dom.SetHidden("last-by-hand", true)
	dom.SetValue("last-who", l.host.Player())
	dom.SetValue("last-piano", "")
	l.make()
	dom.OpenSheet("last")
}

// make writes the report anew.
func (l *last) make() {
	r := l.host.Report(diary.Name(dom.Value("last-who")))
	l.report = packet.EncodeReport(r)
	lines := lesson.Read(r, l.words)
	dom.SetText("last-time", lines.Time)
	dom.SetText("last-cold", lines.Cold)
	dom.SetText("last-left", lines.Left)
	_, question, _ := strings.Cut(lines.Ask, ": ")
	dom.SetText("last-ask", l.words.Say("For anyone listening at home, ask: {question}", "{question}", question))
	svg, err := packet.Square(l.link())
	dom.SetHidden("last-code", err != nil)
	if err == nil {
		dom.SetDrawing("last-square", string(svg))
	}
}

// link is where the report opens: where the task was opened, since the
// teacher's program lives there too.
func (l *last) link() string { return lesson.Link(dom.Address(), packet.ReportKind, l.report) }

// keepPiano adds the minutes at the piano that were told.
func (l *last) keepPiano() {
	minutes, err := strconv.Atoi(strings.TrimSpace(dom.Value("last-piano")))
	if err != nil || minutes < 0 || minutes > 240 {
		dom.SetText("last-said", l.words.Say("The minutes at the piano are a number up to 240."))
		return
	}
	if minutes > 0 {
		l.host.AddPiano(minutes)
	}
	dom.SetValue("last-piano", "")
	dom.SetText("last-said", l.words.Count(minutes, "{n} minute at the piano is in the report.", "{n} minutes at the piano are in the report."))
	l.make()
}
