package main

import (
	"strconv"
	"strings"

	"agremens/game/conduct"
	"agremens/game/desk"
	"agremens/game/diary"
	"agremens/game/rate"
	"agremens/game/round"
	"agremens/web/dom"
)

// speed is the measurement of how fast somebody plays.
type speed struct {
	test   *rate.Test // nil while the sheet is closed
	stop   func()
	wanted float64 // the rate that may be used, 0 none
	with   string
}

// speedTickMS is how often a rest is counted down, ms.
const speedTickMS = 250

func (a *app) bindRate() {
	begin := func() {
		young, _ := a.log.diary.Player(a.log.player)
		a.speed.test, a.speed.wanted = rate.New(young.Young), 0
		a.offer(0, "")
		a.showSpeed()
	}
	dom.OnClick("open-rate", func() {
		a.rounds.Stop()
		begin()
		dom.SetValue("speed-typed", "")
		dom.OpenSheet("speed")
		dom.Focus("speed-pad")
		a.speed.stop = dom.Every(speedTickMS, func() {
			if a.speed.test != nil && a.speed.test.Tick(dom.Now()) {
				a.showSpeed()
			}
		})
	})
	dom.OnClick("speed-again", begin)
	dom.OnClick("speed-close", func() { dom.CloseSheet("speed") })
	dom.OnSheetClosed("speed", func() {
		a.speed.stop()
		a.speed.test = nil
	})
	dom.OnClick("speed-use", func() {
		if a.setRate(a.speed.wanted) {
			a.rateOf(a.speed.wanted, a.speed.with)
		}
		dom.CloseSheet("speed")
	})
	dom.OnClick("speed-type", func() {
		typed, err := strconv.ParseFloat(dom.Value("speed-typed"), 64)
		if err != nil || typed < desk.SlowestRate || typed > desk.FastestRate {
			dom.SetText("speed-line", a.ratesInWords())
			dom.Focus("speed-typed")
			return
		}
		a.offer(typed, "typed")
	})
	dom.OnSheetKey("speed", func(k dom.Key) bool {
		_, taps := round.HandOfKey(k.Code)
		if k.Editing || k.Modified || k.Control || !taps || k.Code == "Enter" {
			return false
		}
		if k.Down && !k.Repeat {
			a.burst(k.At, conduct.OnKeys)
		}
		return true
	})
	dom.OnSurface("speed-pad", func(t dom.Touch) {
		if t.Down {
			a.burst(t.At, conduct.OnGlass)
		}
	})
}

// burst takes a tap of the measurement.
func (a *app) burst(at float64, with string) {
	t := a.speed.test
	if t == nil {
		return
	}
	before := t.State
	t.Tap(at, with, with == conduct.OnGlass)
	if t.State != before {
		a.showSpeed()
	}
}

// showSpeed shows where the measurement stands, and offers what it found.
func (a *app) showSpeed() {
	t := a.speed.test
	dom.SetText("speed-line", t.Line(dom.Now(), a.words))
	state := map[rate.State]string{rate.Bursting: "burst", rate.Resting: "rest"}[t.State]
	dom.SetData("speed-pad", "state", state)
	dom.SetText("speed-pad-text", a.padInWords(t.State))
	if r := t.Rate(); t.State == rate.Measured && !r.Hint {
		a.offer(min(desk.FastestRate, max(desk.SlowestRate, t.Notes())), t.With())
	}
}

// offer shows what a rate would change, and lets it be used.
func (a *app) offer(notes float64, with string) {
	a.speed.wanted, a.speed.with = notes, with
	dom.SetDisabled("speed-use", notes == 0)
	dom.SetHidden("speed-changes", notes == 0)
	if notes == 0 {
		dom.SetText("speed-use", a.words.Say("Use it"))
		return
	}
	dom.SetText("speed-use", a.words.Say("Use {n} notes per second", "{n}", a.words.Number(notes, places(notes))))
	changes := a.desk.AtRate(notes)
	if len(changes) == 0 {
		changes = []string{a.words.Say("Nothing: every sign stays the same.")}
	}
	dom.SetList("speed-list", changes)
}

// padInWords is what stands on the pad.
func (a *app) padInWords(s rate.State) string {
	switch s {
	case rate.Bursting:
		return a.words.Say("go on")
	case rate.Resting:
		return a.words.In("pause", "rest")
	case rate.Measured:
		return a.words.Say("done")
	}
	return a.words.Say("tap here")
}

// places is how many decimals a rate is written with.
func places(rate float64) int {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(rate, 'f', -1, 64), ".")
	return len(decimals)
}

// setRate lets the reading follow a player's rate, notes a second, and
// reports whether that can be set.
func (a *app) setRate(rate float64) bool {
	if a.desk == nil || !a.desk.SetRate(rate) {
		return false
	}
	a.changed()
	a.rounds.Resound()
	return true
}

// playersRate is the notes a second of who taps, a student's where not known.
func (a *app) playersRate() float64 {
	if p, ok := a.log.diary.Player(a.log.player); ok && p.Rate > 0 {
		return p.Rate
	}
	return desk.StudentRate
}

// rateOf keeps the rate with who taps, where somebody is named.
func (a *app) rateOf(rate float64, with string) {
	if a.log.player == "" {
		return
	}
	a.write(func(d *diary.Diary) {
		p, _ := d.Player(a.log.player)
		p.Name, p.Rate, p.With = a.log.player, rate, with
		d.SetPlayer(p)
	})
}
