// Command agremens-web is the browser program: it wires the desk, the round,
// the staff, the sound and the page together. It is built with GOOS=js
// GOARCH=wasm; everything it decides is decided in the packages it wires.
package main

import (
	"agremens/game/stage"
	"agremens/web/dom"
)

func main() {
	a := newApp()
	a.bind()
	a.openFirst()
	a.sound.open()
	go a.findOutput()
	dom.Every(tickMS, func() {
		a.rounds.Tick()
		a.tickCalibration(dom.Now())
	})
	if err := stage.Start(a.frame); err != nil {
		a.say(a.words.Say("The staff cannot be drawn: {error}", "{error}", a.words.Tell(err)))
	}
}
