package round

import (
	"strings"

	"agremens/realize/perf"
)

// The left half of a computer keyboard by physical place, whatever is printed
// on the keys: UI Events KeyboardEvent code values.
const leftHalf = " Backquote Digit1 Digit2 Digit3 Digit4 Digit5 KeyQ KeyW KeyE KeyR KeyT " +
	"KeyA KeyS KeyD KeyF KeyG IntlBackslash KeyZ KeyX KeyC KeyV KeyB "

const rightHalf = " Digit6 Digit7 Digit8 Digit9 Digit0 Minus Equal KeyY KeyU KeyI KeyO KeyP BracketLeft BracketRight Backslash " +
	"KeyH KeyJ KeyK KeyL Semicolon Quote Enter KeyN KeyM Comma Period Slash IntlRo IntlYen " +
	"Numpad0 Numpad1 Numpad2 Numpad3 Numpad4 Numpad5 Numpad6 Numpad7 Numpad8 Numpad9 NumpadEnter NumpadAdd NumpadDecimal "

// HandOfKey returns the hand that a key taps for, by its place on the
// keyboard. The space bar lies between the hands: it is the right hand's, and
// with one hand chosen every key is that hand's anyway. ok is false for keys
// that do not tap.
func HandOfKey(code string) (hand perf.Hand, ok bool) {
	switch {
	case code == "":
		return perf.Right, false
	case strings.Contains(leftHalf, " "+code+" "):
		return perf.Left, true
	case code == "Space", strings.Contains(rightHalf, " "+code+" "):
		return perf.Right, true
	}
	return perf.Right, false
}
