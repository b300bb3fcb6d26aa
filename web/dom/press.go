//go:build js

package dom

import (
	"strconv"
	"syscall/js"
)

// presses are the pressed places of the tapping surface by their fingers.
var presses = map[int]js.Value{}

// Press shows a finger's place on the tapping surface, x and y from 0 to 1 from
// its left and top, or takes it away when the finger is up again.
func Press(finger int, x, y float64, down bool) {
	e, known := presses[finger]
	if !known {
		if !down {
			return
		}
		pad, ok := element("pad")
		if !ok {
			return
		}
		e = document.Call("createElement", "span")
		e.Set("className", "press")
		pad.Call("append", e)
		presses[finger] = e
	}
	if down {
		style := e.Get("style")
		style.Set("left", strconv.FormatFloat(100*x, 'f', 1, 64)+"%")
		style.Set("top", strconv.FormatFloat(100*y, 'f', 1, 64)+"%")
	}
	e.Get("classList").Call("toggle", "up", !down) // and it fades, lest a slow frame never shows it
	if !down && len(presses) > 20 {                // browsers number fingers without end
		e.Call("remove")
		delete(presses, finger)
	}
}
