//go:build faults

package main

import "agremens/web/dom"

// provoke puts in the fault that the address asks for, as ?fault=NAME, so that
// tests can see what becomes of the page. No other build has it.
func provoke() {
	switch dom.Query()["fault"] {
	case "start":
		panic("a fault at the start")
	case "press":
		dom.OnClick("next-sign", func() { panic("a fault when a button is pressed") })
	case "tick":
		ticks := 0
		dom.Every(tickMS, func() {
			if ticks++; ticks > 100 {
				panic("a fault while time goes by")
			}
		})
	}
}
