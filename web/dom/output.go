//go:build js

package dom

import "syscall/js"

// Output is what the browser tells of where the sound goes.
type Output struct {
	Device    string // "" where the browser keeps it to itself
	Channels  int
	LatencyMS float64 // 0 where it tells none
}

// AudioOutput asks the browser where the sound goes. It blocks.
func AudioOutput() (o Output) {
	if context := audio().Get("context"); context.Truthy() {
		o.Channels = context.Get("destination").Get("maxChannelCount").Int()
		if l := context.Get("outputLatency"); l.Type() == js.TypeNumber {
			o.LatencyMS = 1000 * l.Float()
		}
	}
	devices := global.Get("navigator").Get("mediaDevices")
	if !devices.Truthy() || devices.Get("enumerateDevices").Type() != js.TypeFunction {
		return o
	}
	list, err := await(devices.Call("enumerateDevices"))
	if err != nil {
		return o
	}
	for i := range list.Length() {
		d := list.Index(i)
		if text(d.Get("kind")) != "audiooutput" {
			continue
		}
		// The default one comes first; its name is told only to pages that may
		// use the microphone, and we do not ask for that.
		if o.Device = text(d.Get("label")); o.Device == "" {
			o.Device = text(d.Get("deviceId"))
		}
		if o.Device == "default" {
			o.Device = ""
		}
		break
	}
	return o
}

// OnOutputChange calls f when outputs of sound come or go.
func OnOutputChange(f func()) {
	devices := global.Get("navigator").Get("mediaDevices")
	if !devices.Truthy() {
		return
	}
	devices.Call("addEventListener", "devicechange", js.FuncOf(func(js.Value, []js.Value) any {
		go f()
		return nil
	}))
}

// EachFrame calls f before every frame the browser draws, with the time, until
// f returns false. f must not block.
func EachFrame(f func(now float64) bool) {
	var handler js.Func
	handler = js.FuncOf(func(js.Value, []js.Value) any {
		if f(Now()) {
			global.Call("requestAnimationFrame", handler)
		} else {
			handler.Release()
		}
		return nil
	})
	global.Call("requestAnimationFrame", handler)
}

// OnSheetTap calls f with the time of every finger on a pad within a sheet,
// and of every key that goes down while the sheet is open and that writes
// something. When f returns true the browser does nothing else with it.
func OnSheetTap(sheet, pad string, f func(at float64) (taken bool)) {
	dialog, ok := element(sheet)
	surface, ok2 := element(pad)
	if !ok || !ok2 {
		return
	}
	handler := js.FuncOf(func(_ js.Value, args []js.Value) any {
		e := args[0]
		key := text(e.Get("key"))
		if key != "" && (len([]rune(key)) != 1 || e.Get("repeat").Truthy() || e.Get("ctrlKey").Truthy() || e.Get("metaKey").Truthy()) {
			return nil
		}
		if f(e.Get("timeStamp").Float()) {
			e.Call("preventDefault")
		}
		return nil
	})
	surface.Call("addEventListener", "pointerdown", handler)
	dialog.Call("addEventListener", "keydown", handler)
}
