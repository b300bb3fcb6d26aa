// Command agremens-web is the browser program: it opens the page's devices,
// wires them to the studio and runs. It is built with GOOS=js GOARCH=wasm;
// everything it decides is decided in the packages it wires.
package main

import (
	"agremens/game/stage"
	"agremens/web/dom"
)

func main() {
	a := newApp()
	a.wire()
	a.open()
	dom.Every(tickMS, a.tick)
	if err := stage.Start(a.staff.frame); err != nil {
		a.Say(a.words.Say("The staff cannot be drawn: {error}", "{error}", a.words.Tell(err)))
	}
}
