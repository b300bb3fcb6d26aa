package main

import (
	"fmt"
	"strconv"
	"strings"

	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/words"
	"agremens/synth"
	"agremens/web/dom"
)

// settingsHost is what the settings ask of the program.
type settingsHost interface {
	OnDesk() *desk.Desk
	Settled()
	Decided()
	SetBars(string)
	Say(string)
	Show()
}

// settings are the controls of tempo, hands, bars and reading.
type settings struct {
	words *words.Catalogue
	host  settingsHost
}

func newSettings(c *words.Catalogue, h settingsHost) *settings {
	s := &settings{c, h}
	dom.SetOptions("play", []dom.Option{
		{Key: "", Label: c.Say("automatic")},
		{Key: "both", Label: c.Say("both")}, {Key: "right", Label: c.Say("right")},
		{Key: "left", Label: c.Say("left")}, {Key: "none", Label: c.Say("neither")},
	}, "")
	dom.OnInput("tempo", func() {
		if percent, err := strconv.ParseFloat(dom.Value("tempo"), 64); err == nil {
			h.OnDesk().SetPercent(percent)
			h.Settled()
		}
	})
	dom.OnChange("tempo-number", s.setBeats)
	dom.OnChange("goal", s.setGoal)
	dom.OnChange("bars", func() { h.SetBars(dom.Value("bars")) })
	s.settle("hand", func(d *desk.Desk) {
		if hand, ok := desk.ParseHand(dom.Value("hand")); ok && hand != round.NoHand {
			d.Tap = hand
		}
	})
	s.settle("play", func(d *desk.Desk) { d.Hear, d.HearSet = desk.ParseHand(dom.Value("play")) })
	for _, id := range []string{"instrument", "student-instrument"} {
		s.settle(id, func(d *desk.Desk) { d.SetInstrument(dom.Value(id)) })
	}
	s.settle("inner", func(d *desk.Desk) { d.Even = dom.Value("inner") == "even" })
	s.settle("countin", func(d *desk.Desk) { d.CountIn, _ = strconv.Atoi(dom.Value("countin")) })
	s.settle("beat", func(d *desk.Desk) { d.Beat = dom.Checked("beat") })
	s.settle("repeat", func(d *desk.Desk) { d.Repeat = dom.Checked("repeat") })
	s.decide("ornaments", func(d *desk.Desk) { d.SetOrnaments(dom.Checked("ornaments")) })
	s.decide("tradition", func(d *desk.Desk) { d.SetTradition(dom.Value("tradition")) })
	s.decide("prefer", func(d *desk.Desk) { d.SetPrefer(realize.Preference(dom.Value("prefer"))) })
	return s
}

// settle binds a control that changes no note.
func (s *settings) settle(id string, set func(*desk.Desk)) {
	dom.OnChange(id, func() { set(s.host.OnDesk()); s.host.Settled() })
}

// decide binds one that does.
func (s *settings) decide(id string, set func(*desk.Desk)) {
	dom.OnChange(id, func() { set(s.host.OnDesk()); s.host.Decided() })
}

func (s *settings) setBeats() {
	beats, err := strconv.ParseFloat(dom.Value("tempo-number"), 64)
	if err == nil && beats > 0 && !s.host.OnDesk().SetBeats(beats) {
		s.host.Say(s.words.Say("The tempo can be 20 to 200 per cent of the goal tempo; this is the nearest possible."))
	}
	s.host.Settled()
}

func (s *settings) setGoal() {
	// An empty field goes back to what the score says.
	beats, _ := strconv.ParseFloat(dom.Value("goal"), 64)
	if beats != 0 && (beats < 10 || beats > 400) {
		s.host.Say(s.words.Say("A goal tempo is between 10 and 400 beats per minute."))
		s.host.Show()
		return
	}
	s.host.OnDesk().SetGoal(beats)
	s.host.Decided()
}

func (s *settings) show() {
	s.showMenus()
	d := s.host.OnDesk()
	dom.SetValue("tempo", fmt.Sprintf("%.0f", d.Percent))
	dom.SetText("tempo-percent", fmt.Sprintf("%.0f %%", d.Percent))
	dom.SetValue("tempo-number", fmt.Sprintf("%.0f", d.Beats()))
	dom.SetText("tempo-unit", s.words.Say("{beats} per minute", "{beats}", d.BeatsWord()))
	dom.SetValue("goal", fmt.Sprintf("%.0f", d.Goal()))
	dom.SetValue("hand", desk.HandWord(d.Tap))
	hear := ""
	if d.HearSet {
		hear = desk.HandWord(d.Hear)
	}
	dom.SetValue("play", hear)
	dom.SetValue("bars", d.Bars())
	dom.SetValue("countin", strconv.Itoa(d.CountIn))
	dom.SetValue("prefer", orElse(string(d.Taste.Prefer), string(realize.Sources)))
	inner := "shaped"
	if d.Even {
		inner = "even"
	}
	dom.SetValue("inner", inner)
	dom.SetText("settings-name", s.words.Say("Bars {bars}, {hand}", "{bars}", strings.ReplaceAll(d.Bars(), "-", "–"), "{hand}", handInWords(d.Tap, s.words)))
	dom.SetChecked("ornaments", d.Ornaments)
	dom.SetChecked("beat", d.Beat)
	dom.SetChecked("repeat", d.Repeat)
}

func (s *settings) showMenus() {
	d := s.host.OnDesk()
	traditions := []dom.Option{{Key: "", Label: s.words.Say("by composer and date")}}
	for _, t := range realize.Traditions() {
		traditions = append(traditions, dom.Option{Key: t.Key, Label: s.words.Say(t.Name) + ", " + s.words.Say(t.Years)})
	}
	dom.SetOptions("tradition", traditions, d.Taste.Tradition)
	instruments := instrumentOptions(s.words)
	dom.SetOptions("instrument", instruments, d.Instrument)
	dom.SetOptions("student-instrument", instruments, d.Instrument)
}

func instrumentOptions(c *words.Catalogue) []dom.Option {
	var options []dom.Option
	for _, i := range synth.Instruments() {
		options = append(options, dom.Option{Key: string(i.Key), Label: c.Say(i.Name)})
	}
	return options
}
