//go:build js

package dom

import (
	"strconv"
	"syscall/js"
)

// The staff's view scrolls as everything else on the page does: a box over the
// canvas holds something as tall as the picture, and the canvas shows the part
// of it that is in sight.

var extent float64

// SetExtent says how tall, in CSS pixels, what the staff shows is. Where it is
// taller than the stage it can be scrolled, also by keyboard.
func SetExtent(height float64) {
	if height == extent {
		return
	}
	extent = height
	inner, ok := element("extent")
	if !ok {
		return
	}
	inner.Get("style").Set("height", strconv.FormatFloat(height, 'f', 2, 64)+"px")
	scroll, _ := element("scroll")
	if _, stage := StageSize(); height > stage+1 {
		scroll.Set("tabIndex", 0)
		scroll.Call("setAttribute", "role", "region")
	} else {
		scroll.Call("removeAttribute", "tabindex")
		scroll.Call("setAttribute", "role", "group")
	}
}

// Scrolled returns how far the staff's view is scrolled down, in CSS pixels.
func Scrolled() float64 {
	e, ok := element("scroll")
	if !ok {
		return 0
	}
	return e.Get("scrollTop").Float()
}

// ScrollTo scrolls the staff's view; the browser keeps it within the extent.
func ScrollTo(top float64) {
	if e, ok := element("scroll"); ok {
		e.Set("scrollTop", top)
	}
}

// OnScroll calls f when the staff's view has scrolled.
func OnScroll(f func()) {
	if e, ok := element("scroll"); ok {
		e.Call("addEventListener", "scroll", js.FuncOf(func(js.Value, []js.Value) any { f(); return nil }))
	}
}

// SetLook tells the page's style which paper lies on the desk.
func SetLook(dark, contrast bool) {
	data := root.Get("dataset")
	data.Set("paper", either(dark, "dark", "light"))
	data.Set("contrast", either(contrast, "more", "less"))
}

func either(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}
