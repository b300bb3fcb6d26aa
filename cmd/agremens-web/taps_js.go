package main

import (
	"strconv"

	"agremens/game/conduct"
	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/web/dom"
)

// bindTaps takes taps from the keyboard and the glass, each with the time at
// which the event happened, and the few keys that steer.
func (a *app) bindTaps() {
	dom.OnKey(func(k dom.Key) bool {
		if k.Command && !k.Editing && !a.rounds.Tapping() {
			return a.undoKey(k)
		}
		if k.Editing || k.Modified {
			return false
		}
		if a.rounds.Tapping() {
			return a.tapKey(k)
		}
		return a.steer(k)
	})
	dom.OnPad(func(t dom.Touch) {
		hand := perf.Left
		if t.X >= 0.5 {
			hand = perf.Right
		}
		a.rounds.Strike(t.Down, tap.Tap{At: t.At, Hand: hand}, "finger "+strconv.Itoa(t.Pointer), conduct.OnGlass)
	})
}

// tapKey takes a key during a tapping round. With one hand chosen every key
// that can tap is that hand's.
func (a *app) tapKey(k dom.Key) bool {
	if k.Code == "Escape" {
		if k.Down {
			a.rounds.Stop()
		}
		return true
	}
	hand, ok := round.HandOfKey(k.Code)
	if !ok {
		return false
	}
	if !k.Repeat {
		a.rounds.Strike(k.Down, tap.Tap{At: k.At, Hand: hand}, k.Code, conduct.OnKeys)
	}
	// Also when it goes up: a key that taps must not press the button that
	// has the focus.
	return true
}

// steer takes a key outside tapping rounds.
func (a *app) steer(k dom.Key) bool {
	if !k.Down || k.Control && k.Key != "Escape" {
		return false
	}
	if k.Shift && a.noteKey(k) {
		return true
	}
	switch k.Code {
	case "Escape":
		a.rounds.Stop()
		a.hush()
	case "ArrowLeft":
		a.step(-1)
	case "ArrowRight":
		a.step(1)
	default:
		return false
	}
	return true
}
