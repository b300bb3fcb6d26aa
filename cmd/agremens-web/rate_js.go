package main

import (
	"strconv"
	"strings"

	"agremens/game/conduct"
	"agremens/game/desk"
	"agremens/game/rate"
	"agremens/game/round"
	"agremens/realize"
	"agremens/realize/words"
	"agremens/web/dom"
)

// speedHost is what the measurement asks of the program.
type speedHost interface {
	OnDesk() *desk.Desk
	StopRound()
	SetRate(rate float64) bool
	KeepRate(rate float64, with string)
	Young() bool
	Say(string)
	Show()
}

// speed is the measurement of how fast somebody plays.
type speed struct {
	words *words.Catalogue
	host  speedHost

	test   *rate.Test // nil while the sheet is closed
	stop   func()
	wanted float64 // the rate that may be used, 0 none
	with   string
}

// speedTickMS is how often a rest is counted down, ms.
const speedTickMS = 250

func newSpeed(c *words.Catalogue, h speedHost) *speed {
	s := &speed{words: c, host: h}
	begin := func() {
		s.test, s.wanted = rate.New(h.Young()), 0
		s.offer(0, "")
		s.show()
	}
	dom.OnChange("rate", func() {
		if rate, err := strconv.ParseFloat(dom.Value("rate"), 64); err != nil || !s.set(rate, "typed") {
			h.Say(s.rates())
			h.Show()
		}
	})
	dom.OnClick("open-rate", func() {
		h.StopRound()
		begin()
		dom.SetValue("speed-typed", "")
		dom.OpenSheet("speed")
		dom.Focus("speed-pad")
		s.stop = dom.Every(speedTickMS, func() {
			if s.test != nil && s.test.Tick(dom.Now()) {
				s.show()
			}
		})
	})
	dom.OnClick("speed-again", begin)
	dom.OnClick("speed-close", func() { dom.CloseSheet("speed") })
	dom.OnSheetClosed("speed", func() {
		s.stop()
		s.test = nil
	})
	dom.OnClick("speed-use", func() {
		s.set(s.wanted, s.with)
		dom.CloseSheet("speed")
	})
	dom.OnClick("speed-type", func() {
		typed, err := strconv.ParseFloat(dom.Value("speed-typed"), 64)
		if err != nil || typed < realize.SlowestRate || typed > realize.FastestRate {
			dom.SetText("speed-line", s.rates())
			dom.Focus("speed-typed")
			return
		}
		s.offer(typed, "typed")
	})
	dom.OnSheetKey("speed", func(k dom.Key) bool {
		_, taps := round.HandOfKey(k.Code)
		if k.Editing || k.Modified || k.Control || !taps || k.Code == "Enter" {
			return false
		}
		if k.Down && !k.Repeat {
			s.burst(k.At, conduct.OnKeys)
		}
		return true
	})
	dom.OnSurface("speed-pad", func(t dom.Touch) {
		if t.Down {
			s.burst(t.At, conduct.OnGlass)
		}
	})
	return s
}

// set lets the reading follow a rate and keeps it with who taps. It reports
// whether that can be set.
func (s *speed) set(rate float64, with string) bool {
	if !s.host.SetRate(rate) {
		return false
	}
	s.host.KeepRate(rate, with)
	return true
}

// rates says which rates can be set.
func (s *speed) rates() string {
	return s.words.Say("Choose between {slowest} and {fastest} notes per second.",
		"{slowest}", s.words.Number(realize.SlowestRate, 0), "{fastest}", s.words.Number(realize.FastestRate, 0))
}

// showRate shows the rate that the reading counts with.
func (s *speed) showRate() {
	dom.SetValue("rate", strconv.FormatFloat(s.host.OnDesk().Rate(), 'f', -1, 64))
}

// burst takes a tap of the measurement.
func (s *speed) burst(at float64, with string) {
	t := s.test
	if t == nil {
		return
	}
	before := t.State
	t.Tap(at, with, with == conduct.OnGlass)
	if t.State != before {
		s.show()
	}
}

// show shows where the measurement stands, and offers what it found.
func (s *speed) show() {
	t := s.test
	dom.SetText("speed-line", t.Line(dom.Now(), s.words))
	state := map[rate.State]string{rate.Bursting: "burst", rate.Resting: "rest"}[t.State]
	dom.SetData("speed-pad", "state", state)
	dom.SetText("speed-pad-text", s.padInWords(t.State))
	if r := t.Rate(); t.State == rate.Measured && !r.Hint {
		s.offer(min(realize.FastestRate, max(realize.SlowestRate, t.Notes())), t.With())
	}
}

// offer shows what a rate would change, and lets it be used.
func (s *speed) offer(notes float64, with string) {
	s.wanted, s.with = notes, with
	dom.SetDisabled("speed-use", notes == 0)
	dom.SetHidden("speed-changes", notes == 0)
	if notes == 0 {
		dom.SetText("speed-use", s.words.Say("Use it"))
		return
	}
	dom.SetText("speed-use", s.words.Say("Use {n} notes per second", "{n}", s.words.Number(notes, places(notes))))
	changes := s.host.OnDesk().AtRate(notes)
	if len(changes) == 0 {
		changes = []string{s.words.Say("Nothing: every sign stays the same.")}
	}
	dom.SetList("speed-list", changes)
}

// padInWords is what is on the pad.
func (s *speed) padInWords(state rate.State) string {
	switch state {
	case rate.Bursting:
		return s.words.Say("go on")
	case rate.Resting:
		return s.words.In("pause", "rest")
	case rate.Measured:
		return s.words.Say("done")
	}
	return s.words.Say("tap here")
}

// places is how many decimals a rate is written with.
func places(rate float64) int {
	_, decimals, _ := strings.Cut(strconv.FormatFloat(rate, 'f', -1, 64), ".")
	return len(decimals)
}
