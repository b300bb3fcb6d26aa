package main

import (
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/realize/words"
	"agremens/web/dom"
)

// lastHost is what the end of a task asks of the program.
type lastHost interface {
	OnDesk() *desk.Desk
	Task() *lesson.Homework
	Report(name string) packet.Report
	LeaveTask()
	StopRound()
	Player() string
	SetPiano(minutes int)
	PianoToday() int
}

// last is the last page of a task: what was done, and the report.
type last struct {
	words  *words.Catalogue
	host   lastHost
	week   *weekPicture
	report string // what the student sends back, in letters
}

// pianoMinutes are those that one press tells.
var pianoMinutes = [4]int{0, 5, 10, 20}

func newLast(c *words.Catalogue, h lastHost, w *weekPicture, back func()) *last {
	l := &last{words: c, host: h, week: w}
	dom.OnClick("last-desk", func() { dom.CloseSheet("last"); h.LeaveTask() })
	dom.OnClick("last-close", func() { dom.CloseSheet("last") })
	dom.OnChange("last-who", l.make)
	dom.OnSheetClosed("last", back)
	dom.OnClick("last-copy", func() { copyLink("last", l.link(), c) })
	dom.OnClick("last-share", func() { share("last", h.Task().Task.Title, l.link(), c) })
	dom.OnClick("last-file", func() {
		name := lesson.FileName(c.Say("report"), dom.Value("last-who"), h.Task().Task.Title)
		saveFile("last-said", name, lesson.File(packet.ReportKind, l.report), c)
	})
	dom.SetHidden("last-share", !dom.CanShare())
	dom.SetClass("last-copy", "main-deed", !dom.CanShare())
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
	l.make()
	l.showPiano()
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
	l.week.show("last-week", l.host.OnDesk().Goal())
	svg, err := packet.Square(l.link())
	dom.SetHidden("last-code", err != nil)
	if err == nil {
		dom.SetDrawing("last-square", string(svg))
	}
}

// link is where the report opens: where the task was opened, since the
// teacher's program lives there too.
func (l *last) link() string { return lesson.Link(dom.Address(), packet.ReportKind, l.report) }

// showPiano shows the minutes at the piano that one press tells, and which was
// told.
func (l *last) showPiano() {
	told := l.host.PianoToday()
	var buttons []dom.Button
	for _, n := range pianoMinutes {
		buttons = append(buttons, dom.Button{Key: strconv.Itoa(n), Label: strconv.Itoa(n), Pressed: n == told && n > 0})
	}
	dom.SetButtons("last-piano", buttons, func(key string) {
		l.host.SetPiano(whole(key))
		l.make()
		l.showPiano()
	})
}
