// Package dom is the program's typed access to the page: elements by id,
// controls, keys and fingers with their timestamps, files, storage and time.
//
// It is the one place that touches syscall/js; no js.Value leaves it. What
// JavaScript throws comes back as an error. An id that the page does not have
// is reported once on the console and otherwise ignored, so that a page of
// another version still works as far as it can.
//
// Handlers of clicks, changes and files run in their own goroutine and may
// block ([Fetch], [Yield]). Handlers of keys and fingers run at once and must
// not block. Everything runs on the browser's one thread: a goroutine is only
// interrupted where it waits.
//
// Times are milliseconds on the scale of performance.now(). An event's time
// is the moment it happened, never the moment its handler ran.
package dom
