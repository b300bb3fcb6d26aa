//go:build js

package dom

import "syscall/js"

// Touch is a finger, pen or mouse button going down or up.
type Touch struct {
	Pointer int // tells simultaneous fingers apart; not a finger's name
	// X and Y are the place within the surface, 0 to 1 from left and top.
	X, Y    float64
	At      float64 // ms, when it happened
	Down    bool
	Trusted bool
}

// OnPad calls f for every touch of the tapping surface.
func OnPad(f func(Touch)) { OnSurface("pad", f) }

// OnSurface calls f for every touch of an element.
func OnSurface(id string, f func(Touch)) {
	pad, ok := element(id)
	if !ok {
		return
	}
	handler := js.FuncOf(func(_ js.Value, args []js.Value) any {
		e := args[0]
		box := pad.Call("getBoundingClientRect")
		f(Touch{
			Pointer: e.Get("pointerId").Int(),
			X:       share(e.Get("clientX").Float()-box.Get("left").Float(), box.Get("width").Float()),
			Y:       share(e.Get("clientY").Float()-box.Get("top").Float(), box.Get("height").Float()),
			At:      e.Get("timeStamp").Float(),
			Down:    e.Get("type").String() == "pointerdown",
			Trusted: e.Get("isTrusted").Truthy(),
		})
		if e.Get("cancelable").Truthy() {
			e.Call("preventDefault")
		}
		return nil
	})
	for _, event := range []string{"pointerdown", "pointerup", "pointercancel"} {
		pad.Call("addEventListener", event, handler)
	}
	// A long touch is a long note, not a menu.
	pad.Call("addEventListener", "contextmenu", js.FuncOf(func(_ js.Value, args []js.Value) any {
		args[0].Call("preventDefault")
		return nil
	}))
}

func share(at, size float64) float64 {
	if size <= 0 {
		return 0
	}
	return min(max(at/size, 0), 1)
}

// OnStageClick calls f with the place of a click or touch on the staff, in
// CSS pixels from the stage's left and top.
func OnStageClick(f func(x, y float64)) {
	stage, ok := element("stage")
	if !ok {
		return
	}
	stage.Call("addEventListener", "click", js.FuncOf(func(_ js.Value, args []js.Value) any {
		x, y := place(stage, args[0])
		f(x, y)
		return nil
	}))
}

// Drag is a sideways pull on the staff.
type Drag struct {
	Phase DragPhase
	DX    float64 // CSS pixels since the pull began
	At    float64 // ms
}

// DragPhase is a moment of a pull.
type DragPhase int

// Phases of a pull.
const (
	DragStart DragPhase = iota
	DragMove
	DragEnd
)

// slack is how far a finger may slip, in CSS pixels, and still be a click.
const slack = 8

// OnStageDrag calls f while the staff is pulled sideways by finger or mouse,
// or turned by a wheel (which comes as a whole pull at once).
func OnStageDrag(f func(Drag)) {
	stage, ok := element("stage")
	if !ok {
		return
	}
	var from float64
	pointer, pulling := -1, false
	handler := js.FuncOf(func(_ js.Value, args []js.Value) any {
		e := args[0]
		id, x, at := e.Get("pointerId").Int(), e.Get("clientX").Float(), e.Get("timeStamp").Float()
		switch e.Get("type").String() {
		case "pointerdown":
			if pointer < 0 && e.Get("button").Int() == 0 {
				pointer, from, pulling = id, x, false
			}
		case "pointermove":
			if id != pointer {
				return nil
			}
			if !pulling && max(x-from, from-x) > slack {
				pulling = true
				_ = try(func() { stage.Call("setPointerCapture", id) })
				f(Drag{DragStart, 0, at})
			}
			if pulling {
				f(Drag{DragMove, x - from, at})
			}
		default:
			if id == pointer {
				if pulling {
					f(Drag{DragEnd, x - from, at})
				}
				pointer = -1
			}
		}
		return nil
	})
	for _, event := range []string{"pointerdown", "pointermove", "pointerup", "pointercancel"} {
		stage.Call("addEventListener", event, handler)
	}
	// What ends a pull must not also count as a click.
	stage.Call("addEventListener", "click", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if pulling {
			pulling = false
			args[0].Call("stopImmediatePropagation")
		}
		return nil
	}), true)
	stage.Call("addEventListener", "wheel", js.FuncOf(func(_ js.Value, args []js.Value) any {
		e := args[0]
		dx, dy := e.Get("deltaX").Float(), e.Get("deltaY").Float()
		if e.Get("shiftKey").Truthy() && dx == 0 {
			dx = dy
			dy = 0
		}
		if max(dx, -dx) <= max(dy, -dy) {
			return nil // the page scrolls
		}
		e.Call("preventDefault")
		at := e.Get("timeStamp").Float()
		f(Drag{DragStart, 0, at})
		f(Drag{DragMove, -dx, at})
		f(Drag{DragEnd, -dx, at})
		return nil
	}), map[string]any{"passive": false})
}

func place(e, event js.Value) (x, y float64) {
	box := e.Call("getBoundingClientRect")
	return event.Get("clientX").Float() - box.Get("left").Float(),
		event.Get("clientY").Float() - box.Get("top").Float()
}

// OnPress calls f with the time at which a button goes down, by finger, mouse
// or the space bar: a click comes when it is let go.
func OnPress(id string, f func(at float64)) {
	button, ok := element(id)
	if !ok {
		return
	}
	handler := js.FuncOf(func(_ js.Value, args []js.Value) any {
		e := args[0]
		if text(e.Get("type")) == "keydown" && (text(e.Get("key")) != " " || e.Get("repeat").Truthy()) {
			return nil
		}
		f(e.Get("timeStamp").Float())
		return nil
	})
	button.Call("addEventListener", "pointerdown", handler)
	button.Call("addEventListener", "keydown", handler)
}
