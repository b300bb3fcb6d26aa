package main

import (
	"strconv"

	"agremens/game/desk"
	"agremens/game/round"
	"agremens/game/stage"
	"agremens/web/dom"
)

// bind connects the page's controls with the desk.
func (a *app) bind() {
	dom.SetOptions("play", []dom.Option{
		{Key: "", Label: a.words.Say("automatic")},
		{Key: "both", Label: a.words.Say("both")}, {Key: "right", Label: a.words.Say("right")},
		{Key: "left", Label: a.words.Say("left")}, {Key: "none", Label: a.words.Say("neither")},
	}, "")
	dom.BindMenus()
	dom.OnClick("listen", a.rounds.Listen)
	dom.OnClick("tap", a.rounds.Tap)
	dom.OnClick("stop", a.rounds.Stop)
	dom.OnClick("message-close", a.hush)
	dom.OnClick("prev-sign", func() { a.step(-1) })
	dom.OnClick("next-sign", func() { a.step(1) })
	a.bindTempo()
	a.bindSettings()
	a.bindFollow()
	a.bindTaste()
	a.bindTuning()
	a.bindCalibration()
	a.bindHeard()
	a.bindScores()
	a.bindSend()
	a.bindChange()
	a.bindTask()
	a.bindPrint()
	a.bindReports()
	a.bindStudent()
	a.bindEdit()
	a.bindTaps()
	a.bindLook()
	a.bindLanguage()
	a.bindGlossary()
	a.bindHelp()
	a.bindHome()
	a.bindDiary()
	a.bindLog()
	a.bindDay()
	a.bindRate()
	a.bindMIDI()
	a.bindKinds()
	dom.OnHidden(func(hidden bool) {
		if hidden {
			a.keep()
		}
	})
	dom.OnStageClick(a.pick)
	dom.OnStageDrag(a.pull)
	dom.OnLook(func() {
		a.camera.themed = false
		stage.Refresh()
	})
}

func (a *app) step(n int) {
	a.desk.Step(n)
	a.reveal()
	a.show()
	a.keep()
	stage.Refresh()
}

func (a *app) bindTempo() {
	dom.OnInput("tempo", func() {
		if percent, err := strconv.ParseFloat(dom.Value("tempo"), 64); err == nil {
			a.desk.SetPercent(percent)
			a.settled()
		}
	})
	dom.OnChange("tempo-number", func() {
		beats, err := strconv.ParseFloat(dom.Value("tempo-number"), 64)
		if err == nil && beats > 0 && !a.desk.SetBeats(beats) {
			a.say(a.words.Say("The tempo can be 20 to 200 per cent of the goal tempo; this is the nearest possible."))
		}
		a.settled()
	})
	dom.OnChange("goal", func() {
		// An empty field goes back to what the score says.
		beats, _ := strconv.ParseFloat(dom.Value("goal"), 64)
		if beats != 0 && (beats < 10 || beats > 400) {
			a.say(a.words.Say("A goal tempo is between 10 and 400 beats per minute."))
			a.show()
			return
		}
		a.desk.SetGoal(beats)
		a.changed()
		a.rounds.Resound()
	})
}

func (a *app) bindSettings() {
	dom.OnChange("hand", func() {
		if h, ok := desk.ParseHand(dom.Value("hand")); ok && h != round.NoHand {
			a.desk.Tap = h
		}
		a.settled()
	})
	dom.OnChange("play", func() {
		a.desk.Hear, a.desk.HearSet = desk.ParseHand(dom.Value("play"))
		a.settled()
	})
	dom.OnChange("bars", func() {
		if err := a.desk.SetBars(dom.Value("bars")); err != nil {
			a.say(sentence(a.words.Tell(err)))
			a.show()
			return
		}
		a.rounds.Stop()
		a.changed()
	})
	for _, id := range []string{"instrument", "student-instrument"} {
		dom.OnChange(id, func() {
			a.desk.Instrument = dom.Value(id)
			a.settled()
		})
	}
	dom.OnChange("countin", func() {
		a.desk.CountIn, _ = strconv.Atoi(dom.Value("countin"))
		a.settled()
	})
	dom.OnChange("beat", func() { a.desk.Beat = dom.Checked("beat"); a.settled() })
	dom.OnChange("repeat", func() { a.desk.Repeat = dom.Checked("repeat"); a.settled() })
	dom.OnChange("ornaments", func() {
		a.desk.SetOrnaments(dom.Checked("ornaments"))
		a.changed()
		a.rounds.Resound()
	})
	dom.OnChange("tradition", func() {
		a.desk.SetTradition(dom.Value("tradition"))
		a.changed()
		a.rounds.Resound()
	})
}

// bindTaste connects what is seldom set.
func (a *app) bindTaste() {
	dom.OnChange("prefer", func() {
		a.desk.SetPrefer(dom.Value("prefer"))
		a.changed()
		a.rounds.Resound()
	})
	dom.OnChange("rate", func() {
		rate, err := strconv.ParseFloat(dom.Value("rate"), 64)
		if err != nil || !a.setRate(rate) {
			a.say(a.ratesInWords())
			a.show()
			return
		}
		a.rateOf(rate, "typed")
	})
}

// settled shows and keeps a setting that changes no note, and lets what
// sounds follow it.
func (a *app) settled() {
	a.show()
	a.keep()
	a.rounds.Resound()
}

// ratesInWords says which rates can be set.
func (a *app) ratesInWords() string {
	return a.words.Say("Choose between {slowest} and {fastest} notes per second.",
		"{slowest}", a.words.Number(desk.SlowestRate, 0), "{fastest}", a.words.Number(desk.FastestRate, 0))
}
