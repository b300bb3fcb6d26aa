package main

import (
	"strconv"

	"agremens/game/conduct"
	"agremens/game/desk"
	"agremens/game/round"
	"agremens/realize/perf"
	"agremens/realize/tap"
	"agremens/web/dom"
)

// tapsHost is what the keys ask of the program.
type tapsHost interface {
	OnDesk() *desk.Desk
	Selected()
	Reveal()
	Hush()
}

// keys takes taps from the keyboard and the glass, each with the time at which
// the event happened, and the few keys that steer.
type keys struct {
	rounds *conduct.Conductor
	edits  *edits
	host   tapsHost
}

func newTaps(r *conduct.Conductor, e *edits, h tapsHost) {
	k := &keys{r, e, h}
	dom.OnKey(k.key)
	dom.OnPad(func(t dom.Touch) {
		dom.Press(t.Pointer, t.X, t.Y, t.Down)
		hand := perf.Left
		if t.X >= 0.5 {
			hand = perf.Right
		}
		r.Strike(t.Down, tap.Tap{At: t.At, Hand: hand}, "finger "+strconv.Itoa(t.Pointer), conduct.OnGlass)
	})
}

func (k *keys) key(key dom.Key) bool {
	tapping := k.rounds.Tapping()
	switch {
	case key.Command && !key.Editing && !tapping:
		return k.edits.undoKey(key)
	case key.Editing || key.Modified:
		return false
	case tapping:
		return k.tap(key)
	}
	return k.steer(key)
}

// tap takes a key during a tapping round. With one hand chosen every key that
// can tap is that hand's.
func (k *keys) tap(key dom.Key) bool {
	if key.Code == "Escape" {
		if key.Down {
			k.rounds.Stop()
		}
		return true
	}
	hand, ok := round.HandOfKey(key.Code)
	if !ok {
		return false
	}
	if !key.Repeat {
		k.rounds.Strike(key.Down, tap.Tap{At: key.At, Hand: hand}, key.Code, conduct.OnKeys)
	}
	// Also when it goes up: a key that taps must not press the button that
	// has the focus.
	return true
}

// steer takes a key outside tapping rounds.
func (k *keys) steer(key dom.Key) bool {
	if !key.Down || key.Control && key.Key != "Escape" {
		return false
	}
	if key.Shift && k.edits.noteKey(key) {
		return true
	}
	switch key.Code {
	case "Escape":
		k.rounds.Stop()
		k.host.Hush()
	case "ArrowLeft":
		k.step(-1)
	case "ArrowRight":
		k.step(1)
	default:
		return false
	}
	return true
}

func (k *keys) step(n int) {
	k.host.OnDesk().Step(n)
	k.host.Reveal()
	k.host.Selected()
}
