//go:build js

package dom

import (
	"errors"
	"slices"
	"syscall/js"

	"agremens/realize/words"
)

// Strike is a key of a MIDI instrument going down or coming up.
type Strike struct {
	Key      int // MIDI note number
	Velocity int // 1 to 127 where it goes down
	Down     bool
	At       float64 // ms, when it happened
	Port     string  // tells instruments apart
}

// ErrNoMIDI says that the browser has no Web MIDI.
var ErrNoMIDI = errors.New("this browser does not connect MIDI keyboards")

// MIDI status bytes (MIDI 1.0 Detailed Specification, table I). The low half
// is the channel.
const (
	noteOff = 0x80
	noteOn  = 0x90
)

// HasMIDI reports whether the browser can connect MIDI instruments at all.
func HasMIDI() bool {
	return global.Get("navigator").Get("requestMIDIAccess").Type() == js.TypeFunction
}

// MIDIAllowed reports whether the user has allowed MIDI before, so that
// nothing will be asked. It blocks.
func MIDIAllowed() bool {
	permissions := global.Get("navigator").Get("permissions")
	if !HasMIDI() || !permissions.Truthy() {
		return false
	}
	var promise js.Value
	if try(func() { promise = permissions.Call("query", map[string]any{"name": "midi"}) }) != nil {
		return false
	}
	status, err := await(promise)
	return err == nil && text(status.Get("state")) == "granted"
}

// OpenMIDI asks for MIDI and listens to every instrument, those that are
// plugged in later too. ports is called with the names of what is connected,
// now and whenever that changes. The browser may ask the user first: call it
// only after a press of a button. It blocks.
func OpenMIDI(strike func(Strike), ports func(names []string)) error {
	if !HasMIDI() {
		return ErrNoMIDI
	}
	var promise js.Value
	if err := try(func() { promise = global.Get("navigator").Call("requestMIDIAccess", map[string]any{"sysex": false}) }); err != nil {
		return err
	}
	access, err := await(promise)
	if err != nil {
		return words.Errorf(nil, "the browser did not allow it: {error}", "{error}", err.Error())
	}
	message := js.FuncOf(func(_ js.Value, args []js.Value) any {
		if s, ok := struck(args[0]); ok {
			strike(s)
		}
		return nil
	})
	attend := func() {
		names := []string{}
		each := js.FuncOf(func(_ js.Value, args []js.Value) any {
			input := args[0]
			if text(input.Get("state")) == "disconnected" {
				return nil
			}
			input.Set("onmidimessage", message)
			name := text(input.Get("name"))
			if name == "" {
				name = "MIDI keyboard"
			}
			names = append(names, name)
			return nil
		})
		access.Get("inputs").Call("forEach", each)
		each.Release()
		slices.Sort(names)
		ports(names)
	}
	access.Set("onstatechange", js.FuncOf(func(js.Value, []js.Value) any { attend(); return nil }))
	attend()
	return nil
}

// struck reads a key out of a message; others (pedals, clocks) are passed over.
func struck(event js.Value) (Strike, bool) {
	data := event.Get("data")
	if !data.Truthy() || data.Length() < 3 {
		return Strike{}, false
	}
	status, key, velocity := data.Index(0).Int(), data.Index(1).Int(), data.Index(2).Int()
	kind := status & 0xf0
	if kind != noteOn && kind != noteOff {
		return Strike{}, false
	}
	s := Strike{Key: key, Velocity: velocity, Down: kind == noteOn && velocity > 0, At: event.Get("timeStamp").Float()}
	if port := event.Get("target"); port.Truthy() {
		s.Port = text(port.Get("id"))
	}
	return s, true
}
