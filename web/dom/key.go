//go:build js

package dom

import "syscall/js"

// Key is a key going down or up.
type Key struct {
	Code   string  // the place on the keyboard: "KeyF", "Space"
	Key    string  // what it writes: "f", " "
	Down   bool    // down or up
	At     float64 // ms, when it happened
	Repeat bool    // held down, repeated by the machine: never a tap
	// Editing says that the focus is in a field one types into.
	Editing bool
	// Control says that the focus is on a button, select, slider or link,
	// which the space and arrow keys work.
	Control bool
	// Modified says that Ctrl, Alt or Meta is held.
	Modified bool
	// Command says that Ctrl, or the Mac's Command key, is held and Alt is not;
	// Shift that Shift is.
	Command, Shift bool
	// Trusted is false for events dispatched by a script.
	Trusted bool
}

// OnKey calls f for every key that goes down or up anywhere on the page, but
// not while a sheet lies over it. When f returns true the browser does nothing
// else with the key.
func OnKey(f func(Key) (taken bool)) {
	onKeys(global, func(k Key) bool { return !sheetOpen() && f(k) })
}

// OnSheetKey does the same for the keys that go to an open sheet.
func OnSheetKey(id string, f func(Key) (taken bool)) {
	if sheet, ok := element(id); ok {
		onKeys(sheet, f)
	}
}

func onKeys(target js.Value, f func(Key) (taken bool)) {
	handler := js.FuncOf(func(_ js.Value, args []js.Value) any {
		e := args[0]
		if !e.Get("code").Truthy() && !e.Get("key").Truthy() {
			return nil // an autofill pretending to be a key
		}
		editing, control := focus(e.Get("target"))
		if f(Key{
			Code:     text(e.Get("code")),
			Key:      text(e.Get("key")),
			Down:     e.Get("type").String() == "keydown",
			At:       e.Get("timeStamp").Float(),
			Repeat:   e.Get("repeat").Truthy(),
			Editing:  editing,
			Control:  control,
			Modified: e.Get("ctrlKey").Truthy() || e.Get("altKey").Truthy() || e.Get("metaKey").Truthy(),
			Command:  (e.Get("ctrlKey").Truthy() || e.Get("metaKey").Truthy()) && !e.Get("altKey").Truthy(),
			Shift:    e.Get("shiftKey").Truthy(),
			Trusted:  e.Get("isTrusted").Truthy(),
		}) {
			e.Call("preventDefault")
		}
		return nil
	})
	target.Call("addEventListener", "keydown", handler)
	target.Call("addEventListener", "keyup", handler)
}

func text(v js.Value) string {
	if v.Type() != js.TypeString {
		return ""
	}
	return v.String()
}

// focus tells what kind of element has the keyboard.
func focus(target js.Value) (editing, control bool) {
	if target.Type() != js.TypeObject || !target.Get("tagName").Truthy() {
		return false, false
	}
	switch target.Get("tagName").String() {
	case "TEXTAREA":
		return true, false
	case "INPUT":
		switch text(target.Get("type")) {
		case "checkbox", "radio", "range", "file", "button", "submit", "color":
			return false, true
		}
		return true, false
	case "BUTTON", "SELECT", "SUMMARY", "A":
		return false, true
	}
	return target.Get("isContentEditable").Truthy(), false
}
