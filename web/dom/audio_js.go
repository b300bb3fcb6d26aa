package dom

import (
	"encoding/binary"
	"math"
	"syscall/js"

	"agremens/synth/clock"
)

// record is the length of audio.js's records, in numbers.
const record = 8

// audio returns the object audio.js left for us; undefined without it.
func audio() js.Value {
	return js.Global().Get("agremens").Get("audio")
}

// PollAudio hands the clock all that was noted about the sound since the last
// call. delivered is how many frames of ours the device has been given
// (speaker.Delivered): what it was given beyond them is silence before our
// first. Call it a few times a second, and before asking the clock.
func PollAudio(c *clock.Clock, delivered int64) {
	a := audio()
	c.Padding(a.Get("posted").Float() - float64(delivered))
	for numbers := float64s(a.Call("poll")); len(numbers) >= record; numbers = numbers[record:] {
		switch r := numbers[:record]; r[0] {
		case 1:
			if r[6] == 0 {
				c.Inexact()
			}
			c.Mark(clock.Mark{Context: r[1], Played: r[2], Gap: r[3], Left: r[4]}, r[5])
		case 2:
			c.Sample(clock.Sample{
				Now: r[1], Current: r[2], OutContext: r[3], OutPerformance: r[4],
				OutputLatency: r[5], BaseLatency: r[6],
			})
		case 3:
			c.State(r[1], r[2] != 0)
		case 4:
			c.Disturb(r[1])
		}
	}
}

// AudioHeld reports whether the browser or the device holds the sound back.
// It is asked at every tick: a truth value crosses for a tenth of what the
// name of a state costs.
func AudioHeld() bool { return audio().Get("held").Bool() }

// AudioFailed returns what went wrong with the sound, in the browser's words,
// or "".
func AudioFailed() string { return audio().Get("failed").String() }

// float64s copies a Float64Array.
func float64s(array js.Value) []float64 {
	n := array.Length()
	if n == 0 {
		return nil
	}
	raw := make([]byte, 8*n)
	js.CopyBytesToGo(raw, js.Global().Get("Uint8Array").New(array.Get("buffer"), array.Get("byteOffset"), 8*n))
	out := make([]float64, n)
	for i := range out {
		out[i] = math.Float64frombits(binary.LittleEndian.Uint64(raw[8*i:]))
	}
	return out
}
