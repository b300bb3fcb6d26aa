package main

import (
	"agremens/game/conduct"
	"agremens/synth"
	"agremens/web/dom"
)

// heardKey remembers that the question was asked.
const heardKey = "agremens.heard"

// bindHeard connects the question whether anything was heard, and the help
// for a tablet that is set to silent.
func (a *app) bindHeard() {
	answered := func() {
		_ = dom.Store(heardKey, "yes")
		dom.SetHidden("heard", true)
	}
	help := func() {
		answered()
		dom.OpenSheet("heard-help")
	}
	dom.OnClick("heard-click", a.click)
	dom.OnClick("heard-yes", answered)
	dom.OnClick("heard-no", help)
	dom.OnClick("heard-again", a.click)
	dom.OnClick("heard-close", func() { dom.CloseSheet("heard-help") })
	for _, id := range []string{"no-sound", "student-no-sound"} {
		dom.OnClick(id, func() {
			help()
			a.click()
		})
	}
}

// click sounds once by itself.
func (a *app) click() {
	a.sound.open()
	if !a.rounds.Sounding() {
		a.sound.Play(synth.Sequence{Clicks: []synth.Click{{At: conduct.Rate / 5, Kind: synth.Strong}}, Length: conduct.Rate})
	}
}

// askHeard asks once on a device with glass, after the first round: silence
// from a muted tablet is easily read as a broken program.
func (a *app) askHeard() {
	if _, asked, err := dom.Load(heardKey); asked || err != nil || !dom.Glass() {
		return
	}
	_ = dom.Store(heardKey, "asked")
	dom.SetHidden("heard", false)
	a.click()
}
