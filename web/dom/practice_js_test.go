//go:build js

package dom_test

import (
	"testing"

	"agremens/web/dom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestTable(t *testing.T) {
	at := page(t, `<table id="tab"><caption>c</caption></table>`)
	for range 2 { // filling it again replaces what was there
		dom.SetTable("tab", []string{"Day", "Rounds"}, [][]string{{"1 Jan", "<b>3"}, {"2 Jan", "4"}})
	}
	table := at("tab")
	assert.Equal(t, 2, table.Call("querySelectorAll", "thead th[scope=col]").Length())
	assert.Equal(t, 2, table.Call("querySelectorAll", "tbody th[scope=row]").Length())
	assert.Equal(t, "<b>3", table.Call("querySelector", "tbody td").Get("textContent").String(), "text never becomes markup")
}

func TestDrawing(t *testing.T) {
	at := page(t, `<div id="drawn"></div>`)
	dom.SetDrawing("drawn", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 2 1"><rect width="1" height="1"/></svg>`)
	assert.Equal(t, 1, at("drawn").Call("querySelectorAll", "svg rect").Length())
	dom.SetDrawing("drawn", `<svg>not closed`)
	assert.Equal(t, 0, at("drawn").Get("childNodes").Length(), "what is no SVG is not shown")
	dom.SetDrawing("drawn", "")
	assert.Equal(t, 0, at("drawn").Get("childNodes").Length())
}

// The browser's own clock is the source.
func TestWall(t *testing.T) {
	day, minute := dom.Wall()
	now := global.Get("Date").New()
	midnight := global.Get("Date").New(1970, 0, 1+day, minute/60, minute%60)
	assert.InDelta(t, now.Call("getTime").Float(), midnight.Call("getTime").Float(), 120_000)
}

func TestForbiddenStorage(t *testing.T) {
	plain := global.Get("Object").Call("getOwnPropertyDescriptor", global, "localStorage")
	getter := global.Call("Function", `throw new DOMException("no storage here", "SecurityError")`)
	global.Get("Object").Call("defineProperty", global, "localStorage", map[string]any{"get": getter, "configurable": true})
	defer global.Get("Object").Call("defineProperty", global, "localStorage", plain)
	_, ok, err := dom.Load("x")
	assert.False(t, ok)
	assert.ErrorContains(t, err, "no storage here")
	assert.Error(t, dom.Store("x", "y"))
	assert.Error(t, dom.Forget("x"))
}

func TestMIDI(t *testing.T) {
	navigator := global.Get("navigator")
	input := global.Call("Function", `return { id: "p1", name: "Piano", state: "connected" }`).Invoke()
	access := global.Call("Function", "input", `return { inputs: new Map([["p1", input]]), onstatechange: null }`).Invoke(input)
	ask := global.Call("Function", "access", `return () => Promise.resolve(access)`).Invoke(access)
	global.Get("Object").Call("defineProperty", navigator, "requestMIDIAccess", map[string]any{"value": ask, "configurable": true})

	var struck []dom.Strike
	var names [][]string
	require.True(t, dom.HasMIDI())
	require.NoError(t, dom.OpenMIDI(func(s dom.Strike) { struck = append(struck, s) }, func(n []string) { names = append(names, n) }))
	send := global.Call("Function", "input", "bytes", "at", `input.onmidimessage({ data: new Uint8Array(bytes), timeStamp: at, target: input })`)
	for i, bytes := range [][]any{{0x90, 60, 99}, {0x83, 60, 10}, {0x91, 61, 0}, {0xb0, 64, 127}, {0xf8}, {0x90, 62}} {
		send.Invoke(input, bytes, float64(i))
	}
	// MIDI 1.0: note on with velocity 0 is a note off; pedals, clocks and
	// messages cut short are no keys.
	assert.Equal(t, []dom.Strike{
		{Key: 60, Velocity: 99, Down: true, At: 0, Port: "p1"},
		{Key: 60, Velocity: 10, At: 1, Port: "p1"},
		{Key: 61, At: 2, Port: "p1"},
	}, struck)
	access.Get("inputs").Call("delete", "p1")
	access.Call("onstatechange")
	assert.Equal(t, [][]string{{"Piano"}, {}}, names)
}

func TestSheetKeysAndSurface(t *testing.T) {
	at := page(t, `<dialog id="sheet9"><input id="in9"><div id="surface9"></div></dialog>`)
	dom.OpenSheet("sheet9")
	defer dom.CloseSheet("sheet9")
	var keys []dom.Key
	dom.OnSheetKey("sheet9", func(k dom.Key) bool { keys = append(keys, k); return true })
	touches := 0
	dom.OnSurface("surface9", func(dom.Touch) { touches++ })
	at("surface9").Call("dispatchEvent", event("KeyboardEvent", "keydown", map[string]any{"code": "KeyJ", "key": "j"}))
	at("in9").Call("dispatchEvent", event("KeyboardEvent", "keydown", map[string]any{"code": "KeyK", "key": "k"}))
	at("surface9").Call("dispatchEvent", event("PointerEvent", "pointerdown", map[string]any{"pointerId": 3}))
	require.Len(t, keys, 2)
	assert.False(t, keys[0].Editing)
	assert.True(t, keys[1].Editing)
	assert.Equal(t, 1, touches)
}

func TestEnterAndHidden(t *testing.T) {
	at := page(t, `<input id="in8"><p id="p8" hidden></p>`)
	pressed := make(chan bool, 1)
	dom.OnEnter("in8", func() { pressed <- true })
	at("in8").Call("dispatchEvent", event("KeyboardEvent", "keydown", map[string]any{"key": "a", "code": "KeyA"}))
	at("in8").Call("dispatchEvent", event("KeyboardEvent", "keydown", map[string]any{"key": "Enter", "code": "Enter"}))
	assert.True(t, <-pressed)
	assert.True(t, dom.Hidden("p8"))
	dom.SetHidden("p8", false)
	assert.False(t, dom.Hidden("p8"))
}
