//go:build js

package dom

import "syscall/js"

var performance = global.Get("performance")

// Now returns the time in ms since the page was opened, on the same scale as
// the times of events.
func Now() float64 { return performance.Call("now").Float() }

var turn struct {
	port    js.Value
	waiting []chan struct{}
}

// Yield lets the browser draw, sound and take events, and returns when it has
// done so. Long work calls it every few milliseconds; the scheduler's own
// yield gives the browser no turn.
func Yield() {
	if turn.port.IsUndefined() {
		channel := global.Get("MessageChannel").New()
		channel.Get("port1").Set("onmessage", js.FuncOf(func(js.Value, []js.Value) any {
			next := turn.waiting[0]
			turn.waiting = turn.waiting[1:]
			close(next)
			return nil
		}))
		turn.port = channel.Get("port2")
	}
	done := make(chan struct{})
	turn.waiting = append(turn.waiting, done)
	turn.port.Call("postMessage", js.Null())
	<-done
}

// Breathe returns a function that yields when ms have passed since it last
// did, and else returns at once.
func Breathe(ms float64) func() {
	last := Now()
	return func() {
		if Now()-last >= ms {
			Yield()
			last = Now()
		}
	}
}

// Every calls f every so many ms until stop is called. f must not block.
func Every(ms int, f func()) (stop func()) {
	handler := js.FuncOf(func(js.Value, []js.Value) any { f(); return nil })
	id := global.Call("setInterval", handler, ms)
	stopped := false
	return func() {
		if stopped {
			return
		}
		stopped = true
		global.Call("clearInterval", id)
		handler.Release()
	}
}

// After calls f once, in so many ms. f must not block.
func After(ms int, f func()) { after(ms, f) }

func after(ms int, f func()) {
	var handler js.Func
	handler = js.FuncOf(func(js.Value, []js.Value) any {
		handler.Release()
		f()
		return nil
	})
	global.Call("setTimeout", handler, ms)
}
