//go:build js

package dom

import (
	"encoding/binary"
	"math"
	"syscall/js"
)

// Microphone is what tells of a round that is listened to. All are called on
// the page's thread.
type Microphone struct {
	Heard  func(notes []float64) // numbers from the listener
	Report func(row []float64)   // after [EndListening]
	Taken  func()                // the microphone went away
	Failed func()                // the listener stopped
	// Take gives the strikes of the take that [WriteTakes] ended, if it was
	// heard, and what is written of all of them.
	Take func(strikes, version []float64)
}

// OpenMicrophone asks for the microphone and loads what hears. It returns
// whether the device alters the sound, or the name of what is in the way, as
// web/listen.js has it; "" is none. beside says that the page will sound
// meanwhile. It blocks.
func OpenMicrophone(m Microphone, beside bool) (altered bool, trouble string) {
	if err := loadListening(); err != nil {
		return false, "unheard"
	}
	told := m.told()
	opened, err := await(listening().Call("open", told, beside))
	if err != nil {
		told.Release()
		return false, err.Error()
	}
	return opened.Get("altered").Truthy(), ""
}

// HearFile hears a task from the bytes of a recording or of a MIDI file; the
// report comes as after a microphone. It returns the name of what is in the
// way, "" for nothing, and blocks.
func HearFile(task []float64, file []byte, m Microphone) (trouble string) {
	if loadListening() != nil {
		return "unheard"
	}
	bytes := global.Get("Uint8Array").New(len(file))
	js.CopyBytesToJS(bytes, file)
	if _, err := await(listening().Call("hear", float64Array(task), bytes, m.told())); err != nil {
		return err.Error()
	}
	return ""
}

// told is what the script calls.
func (m Microphone) told() js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) any {
		switch text(args[0]) {
		case "heard":
			m.Heard(float64s(args[1]))
		case "report":
			m.Report(float64s(args[1]))
		case "take":
			m.Take(float64s(args[1]), float64s(args[2]))
		case "taken":
			m.Taken()
		case "failed":
			m.Failed()
		}
		return nil
	})
}

// BeginListening hears a task from now on.
func BeginListening(task []float64) { beginListening("task", task) }

// BeginTake hears from now on how an ornament is played at a place.
func BeginTake(place []float64) { beginListening("place", place) }

func beginListening(what string, row []float64) {
	listening().Call("begin", map[string]any{what: float64Array(row)})
}

// WriteTakes ends the take that is heard, if one is, and has it and those
// before it written; the answer goes to [Microphone.Take]. It needs no
// microphone, and blocks while the listener is loaded.
func WriteTakes(place []float64, takes [][]float64, m Microphone) {
	if loadListening() != nil {
		m.Failed()
		return
	}
	rows := global.Get("Array").New()
	for _, take := range takes {
		rows.Call("push", float64Array(take))
	}
	listening().Call("write", float64Array(place), rows, m.told())
}

func float64Array(numbers []float64) js.Value {
	raw := make([]byte, 0, 8*len(numbers))
	for _, x := range numbers {
		raw = binary.LittleEndian.AppendUint64(raw, math.Float64bits(x))
	}
	row := global.Get("Float64Array").New(len(numbers))
	js.CopyBytesToJS(global.Get("Uint8Array").New(row.Get("buffer")), raw)
	return row
}

// EndListening switches the microphone off and asks for the report,
// DropListening for none.
func EndListening() { listening().Call("finish") }

// DropListening forgets what was heard.
func DropListening() {
	if l := listening(); l.Truthy() {
		l.Call("drop")
	}
}

func listening() js.Value { return global.Get("agremens").Get("listen") }

// loadListening loads the script that opens microphones, once.
func loadListening() error {
	if listening().Truthy() {
		return nil
	}
	script := document.Call("createElement", "script")
	script.Set("src", document.Call("getElementById", "hark").Get("dataset").Get("script"))
	loaded := js.FuncOf(func(_ js.Value, args []js.Value) any {
		script.Set("onload", args[0])
		script.Set("onerror", args[1])
		document.Get("head").Call("append", script)
		return nil
	})
	defer loaded.Release()
	_, err := await(global.Get("Promise").New(loaded))
	return err
}
