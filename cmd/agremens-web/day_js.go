package main

import (
	"agremens/game/day"
	"agremens/game/diary"
	"agremens/game/practice"
	"agremens/game/round"
	"agremens/web/dom"
)

const dayKey = "agremens.day"

// bindDay leads through ten minutes of practice.
func (a *app) bindDay() {
	line, _, _ := dom.Load(dayKey)
	date, _ := dom.Wall()
	a.setDay(day.Decode(line, date))
	dom.OnClick("start-day", func() {
		dom.CloseMenus()
		a.setDay(day.Start())
		dom.Focus("day-go")
	})
	dom.OnClick("day-go", func() {
		if !a.today.Tried {
			a.deed(a.today.Current().Key)
			return
		}
		a.leavePlain()
		a.setDay(a.today.Next())
		a.lastPage()
	})
	dom.OnClick("day-stop", func() {
		a.rounds.Stop()
		a.leavePlain()
		a.setDay(a.today.Finish())
		a.lastPage()
	})
	dom.OnClick("day-log", func() { dom.CloseSheet("day-end"); a.openLog() })
	dom.OnClick("day-close", func() { dom.CloseSheet("day-end") })
	dom.OnSheetClosed("day-end", a.dayOver)
}

// setDay shows where the day stands and keeps it.
func (a *app) setDay(d day.Day) {
	a.today = d
	date, _ := dom.Wall()
	_ = dom.Store(dayKey, d.Encode(date))
	dom.SetHidden("day-strip", !d.On || d.Over())
	dom.SetText("day-line", d.Line(a.words))
	dom.SetText("day-go", d.Button(a.words))
	dom.SetHidden("day-stop", a.homework != nil) // the student's page has its own end
	a.showStrip()
}

// dayAfter tells the day what a round was.
func (a *app) dayAfter(c round.Record, plain bool) {
	a.setDay(a.today.After(day.Done{
		Tapped: c.Hands != round.NoHand, Plain: plain, Unaided: c.Help.Unaided(), Clean: c.Clean && c.Judged,
		Piano: c.Kind == practice.Piano, Seconds: int(c.Seconds),
	}))
}

// lastPage is the end of a day of practice.
func (a *app) lastPage() {
	if !a.today.Over() {
		return
	}
	if a.homework != nil {
		a.openLast()
		return
	}
	p := a.log.diary.Progress(a.log.player, "")
	dom.SetText("day-end-text", p.Today(now().Day, a.words))
	dom.SetText("day-end-next", p.Left(a.words))
	dom.SetValue("day-piano", "")
	dom.OpenSheet("day-end")
}

// dayOver puts the day away, with what was told of the piano.
func (a *app) dayOver() {
	if minutes := whole(dom.Value("day-piano")); minutes > 0 {
		a.addPiano(minutes)
	}
	a.setDay(day.Day{})
}

func (a *app) addPiano(minutes int) {
	a.write(func(d *diary.Diary) {
		d.AddPiano(diary.Piano{When: now(), Player: a.log.player, Passage: a.passageKey(), Title: a.desk.Passage.Title, Minutes: minutes})
	})
}

// leavePlain gives the ornaments back after the step without them.
func (a *app) leavePlain() {
	if a.today.Current().Key == day.Plain && !a.desk.Ornaments {
		a.desk.SetOrnaments(true)
		a.changed()
	}
}

// leadDay leads through today's task, unless today is over already.
func (a *app) leadDay() {
	if !a.today.On {
		a.setDay(day.Start())
		return
	}
	a.setDay(a.today)
}

// deed begins what a step asks for.
func (a *app) deed(key day.Key) {
	if plain := key == day.Plain; a.desk.Ornaments == plain {
		a.desk.SetOrnaments(!plain)
		a.changed()
	}
	switch key {
	case day.Listen:
		a.rounds.Listen()
	case day.Unaided:
		a.rounds.TapKind(practice.Alone)
	case day.Piano:
		a.rounds.TapKind(practice.Piano)
	default:
		a.rounds.TapKind(practice.Tap)
	}
	a.showKind()
}
