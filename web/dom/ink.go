//go:build js

package dom

import (
	"strconv"
	"syscall/js"
)

var ink js.Value

// Ink shows a dot on the stage at once, its middle at x, y and so wide, in CSS
// pixels from the stage's left and top, until [Dry].
func Ink(x, y, width float64) {
	if ink.IsUndefined() {
		stage, ok := element("stage")
		if !ok {
			return
		}
		ink = document.Call("createElement", "span")
		ink.Set("className", "ink")
		stage.Call("append", ink)
	}
	px := func(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) + "px" }
	style := ink.Get("style")
	style.Set("left", px(x-width/2))
	style.Set("top", px(y-width/2))
	style.Set("width", px(width))
	style.Set("display", "block")
}

// Dry takes the dot away: the staff itself has it now.
func Dry() {
	if !ink.IsUndefined() {
		ink.Get("style").Set("display", "none")
	}
}
