package main

import (
	"strconv"

	"agremens/game/desk"
	"agremens/synth/tuning"
	"agremens/web/dom"
)

// otherPitch is the menu's entry for a pitch that is not customary.
const otherPitch = "other"

// bindTuning connects temperament and pitch.
func (a *app) bindTuning() {
	dom.OnChange("tuning", func() {
		a.desk.SetTemperament(dom.Value("tuning"))
		a.settled()
	})
	dom.OnChange("pitch", func() {
		if hz, err := strconv.ParseFloat(dom.Value("pitch"), 64); err == nil {
			a.desk.SetPitch(hz)
			a.settled()
			return
		}
		dom.SetHidden("pitch-field", false)
		dom.Focus("pitch-number")
	})
	dom.OnChange("pitch-number", func() {
		hz, err := strconv.ParseFloat(dom.Value("pitch-number"), 64)
		if err != nil || !a.desk.SetPitch(hz) {
			a.say(a.words.Say("The pitch of a' is between {lowest} and {highest} Hz.", "{lowest}", hertz(desk.LowestPitch), "{highest}", hertz(desk.HighestPitch)))
		}
		a.settled()
	})
}

func (a *app) showTuning() {
	t := a.desk.Tuning()
	var temperaments []dom.Option
	for _, other := range tuning.All() {
		temperaments = append(temperaments, dom.Option{Key: other.Name, Label: a.words.Say(other.Label)})
	}
	dom.SetOptions("tuning", temperaments, t.Name)
	pitches, chosen := []dom.Option{}, otherPitch
	for _, p := range tuning.Pitches() {
		pitches = append(pitches, dom.Option{Key: hertz(p.A), Label: a.words.Say(p.Label)})
		if p.A == t.A {
			chosen = hertz(p.A)
		}
	}
	dom.SetOptions("pitch", append(pitches, dom.Option{Key: otherPitch, Label: a.words.Say("another")}), chosen)
	dom.SetHidden("pitch-field", chosen != otherPitch)
	dom.SetValue("pitch-number", hertz(t.A))
}

func hertz(hz float64) string { return strconv.FormatFloat(hz, 'f', -1, 64) }
