//go:build faults

package main

import (
	"agremens/web/dom"
)

// A build with -tags faults breaks where the address says, so that the tests
// see what a mistake of ours leaves of the page: ?fault=NAME.
func init() {
	switch dom.Query()["fault"] {
	case "start": // before there is anything
		broken()
	case "press": // in what a button does
		dom.OnClick("listen", broken)
	case "tick": // in what the browser calls from time to time
		dom.OnClick("listen", func() { dom.Every(100, broken) })
	case "goroutine": // in what goes on beside it
		dom.OnClick("listen", func() { go func() { dom.Yield(); broken() }() })
	case "trap": // where the runtime has no say any more
		dom.OnClick("listen", func() { trap() })
	}
}

func broken() { panic("a fault was put in") }

// trap is an instruction that no browser can carry out.
func trap()
