package main

import (
	"math"
	"runtime"
	"runtime/debug"
)

// growth is how much memory a round may fill before the collector comes in all
// the same. A minute of the trill passage did not fill it (measured).
const growth = 32 << 20

// collectorOff tidies memory up and then keeps the garbage collector away:
// here it runs on the page's one thread, and marking what an opened sonata
// holds takes longer than a frame.
func collectorOff() {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	debug.SetMemoryLimit(int64(m.Sys-m.HeapReleased) + growth)
	debug.SetGCPercent(-1)
}

// collectorOn lets the collector work as it does by itself.
func collectorOn() {
	debug.SetMemoryLimit(math.MaxInt64)
	debug.SetGCPercent(100)
}
