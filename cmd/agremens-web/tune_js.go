package main

import (
	"strconv"

	"agremens/game/desk"
	"agremens/realize/words"
	"agremens/synth/tuning"
	"agremens/web/dom"
)

// otherPitch is the menu's entry for a pitch that is not customary.
const otherPitch = "other"

// tuningHost is what temperament and pitch ask of the program.
type tuningHost interface {
	OnDesk() *desk.Desk
	Settled()
	Say(string)
}

// tunings is the choice of temperament and pitch.
type tunings struct {
	words *words.Catalogue
	host  tuningHost
}

func newTuning(c *words.Catalogue, h tuningHost) *tunings {
	t := &tunings{c, h}
	dom.OnChange("tuning", func() {
		h.OnDesk().SetTemperament(dom.Value("tuning"))
		h.Settled()
	})
	dom.OnChange("pitch", func() {
		if hz, err := strconv.ParseFloat(dom.Value("pitch"), 64); err == nil {
			h.OnDesk().SetPitch(hz)
			h.Settled()
			return
		}
		dom.SetHidden("pitch-field", false)
		dom.Focus("pitch-number")
	})
	dom.OnChange("pitch-number", func() {
		hz, err := strconv.ParseFloat(dom.Value("pitch-number"), 64)
		if err != nil || !h.OnDesk().SetPitch(hz) {
			h.Say(c.Say("The pitch of a' is between {lowest} and {highest} Hz.", "{lowest}", hertz(desk.LowestPitch), "{highest}", hertz(desk.HighestPitch)))
		}
		h.Settled()
	})
	return t
}

func (t *tunings) show() {
	now := t.host.OnDesk().Tuning()
	var temperaments []dom.Option
	for _, other := range tuning.All() {
		temperaments = append(temperaments, dom.Option{Key: other.Name, Label: t.words.Say(other.Label)})
	}
	dom.SetOptions("tuning", temperaments, now.Name)
	pitches, chosen := []dom.Option{}, otherPitch
	for _, p := range tuning.Pitches() {
		pitches = append(pitches, dom.Option{Key: hertz(p.A), Label: t.words.Say(p.Label)})
		if p.A == now.A {
			chosen = hertz(p.A)
		}
	}
	dom.SetOptions("pitch", append(pitches, dom.Option{Key: otherPitch, Label: t.words.Say("another")}), chosen)
	dom.SetHidden("pitch-field", chosen != otherPitch)
	dom.SetValue("pitch-number", hertz(now.A))
}

func hertz(hz float64) string { return strconv.FormatFloat(hz, 'f', -1, 64) }
