// Command agremens-ear is the program that hears an instrument, in a worker of
// the page: web/listen-worker.js starts it and calls what it gives. It is built
// with GOOS=js GOARCH=wasm.
package main

import (
	"encoding/binary"
	"math"
	"syscall/js"

	"agremens/game/listening/ear"
)

// listener hears samples as they come.
type listener interface{ Feed([]float32) []float64 }

// beside is one that is told what the page sounds meanwhile.
type beside interface {
	FeedBeside(samples, sent []float32) []float64
}

// main gives the worker its functions, as the object ear. expect(rate, task)
// begins a round and take(rate, place) a take of an ornament; feed(samples,
// sent) returns what was just heard while the page sounded sent (nothing, where
// it is left out), midi(file) takes a MIDI file instead, and finish() gives the round's report; taken(place,
// takes) ends a take, if one is under way, and gives its strikes and then what
// is written of all takes. Rows are Float64Arrays, samples a Float32Array.
func main() {
	var hearing listener
	var samples, sent []float32
	js.Global().Set("ear", map[string]any{
		"expect": js.FuncOf(func(_ js.Value, args []js.Value) any {
			hearing = ear.New(args[0].Float(), numbers(args[1]))
			return nil
		}),
		"take": js.FuncOf(func(_ js.Value, args []js.Value) any {
			taker := ear.NewTaker(numbers(args[1]))
			taker.Listen(args[0].Float())
			hearing = taker
			return nil
		}),
		"feed": js.FuncOf(func(_ js.Value, args []js.Value) any {
			if hearing == nil {
				return nil
			}
			samples = sound(samples, args[0])
			if b, ok := hearing.(beside); ok && len(args) > 1 {
				sent = sound(sent, args[1])
				return array(b.FeedBeside(samples, sent))
			}
			return array(hearing.Feed(samples))
		}),
		"midi": js.FuncOf(func(_ js.Value, args []js.Value) any {
			round, ok := hearing.(*ear.Ear)
			return ok && round.Struck(bytes(args[0]))
		}),
		"finish": js.FuncOf(func(js.Value, []js.Value) any {
			round, ok := hearing.(*ear.Ear)
			if !ok {
				return nil
			}
			hearing = nil
			return array(round.Finish())
		}),
		"taken": js.FuncOf(func(_ js.Value, args []js.Value) any {
			all := ear.NewTaker(numbers(args[0]))
			for i := range args[1].Length() {
				all.Played(numbers(args[1].Index(i)))
			}
			var strikes []float64
			if taker, ok := hearing.(*ear.Taker); ok {
				strikes = taker.Heard()
				all.Played(strikes)
			}
			hearing = nil
			return []any{array(strikes), array(all.Write())}
		}),
	})
	js.Global().Call("hears")
	select {}
}

// bytes copies what a typed array holds.
func bytes(array js.Value) []byte {
	n := array.Get("byteLength").Int()
	raw := make([]byte, n)
	js.CopyBytesToGo(raw, js.Global().Get("Uint8Array").New(array.Get("buffer"), array.Get("byteOffset"), n))
	return raw
}

// sound reads a Float32Array; into is written anew.
func sound(into []float32, array js.Value) []float32 {
	into = into[:0]
	for raw := bytes(array); len(raw) >= 4; raw = raw[4:] {
		into = append(into, math.Float32frombits(binary.LittleEndian.Uint32(raw)))
	}
	return into
}

func numbers(array js.Value) []float64 {
	raw := bytes(array)
	var row []float64
	for ; len(raw) >= 8; raw = raw[8:] {
		row = append(row, math.Float64frombits(binary.LittleEndian.Uint64(raw)))
	}
	return row
}

func array(row []float64) js.Value {
	raw := make([]byte, 0, 8*len(row))
	for _, x := range row {
		raw = binary.LittleEndian.AppendUint64(raw, math.Float64bits(x))
	}
	array := js.Global().Get("Float64Array").New(len(row))
	js.CopyBytesToJS(js.Global().Get("Uint8Array").New(array.Get("buffer")), raw)
	return array
}
