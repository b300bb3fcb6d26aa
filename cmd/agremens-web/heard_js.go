package main

import (
	"agremens/game/conduct"
	"agremens/synth"
	"agremens/web/dom"
)

// heardKey remembers that the question was asked.
const heardKey = "agremens.heard"

// heard asks whether anything was heard, and helps where a tablet is set to
// silent.
type heard struct {
	sound  *sound
	rounds *conduct.Conductor
}

func newHeard(s *sound, r *conduct.Conductor) *heard {
	h := &heard{s, r}
	answered := func() {
		_ = dom.Store(heardKey, "yes")
		dom.SetHidden("heard", true)
	}
	help := func() {
		answered()
		dom.OpenSheet("heard-help")
	}
	dom.OnClick("heard-click", h.click)
	dom.OnClick("heard-yes", answered)
	dom.OnClick("heard-no", help)
	dom.OnClick("heard-again", h.click)
	dom.OnClick("heard-close", func() { dom.CloseSheet("heard-help") })
	for _, id := range []string{"no-sound", "student-no-sound"} {
		dom.OnClick(id, func() {
			help()
			h.click()
		})
	}
	return h
}

// click sounds once by itself.
func (h *heard) click() {
	h.sound.open()
	if !h.rounds.Sounding() {
		h.sound.Play(synth.Sequence{Clicks: []synth.Click{{At: conduct.Rate / 5, Kind: synth.Strong}}, Length: conduct.Rate})
	}
}

// ask asks once on a device with glass, after the first round: silence from a
// muted tablet is easily read as a broken program.
func (h *heard) ask() {
	if _, asked, err := dom.Load(heardKey); asked || err != nil || !dom.Glass() {
		return
	}
	_ = dom.Store(heardKey, "asked")
	dom.SetHidden("heard", false)
	h.click()
}
