//go:build js

package dom_test

import (
	"strings"
	"syscall/js"
	"testing"

	"agremens/web/dom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// These run in a browser:
// GOOS=js GOARCH=wasm go test -exec wasmbrowsertest ./web/dom

var (
	global   = js.Global()
	document = global.Get("document")
)

// page puts elements on the page and returns a way to find them.
func page(t *testing.T, markup string) func(id string) js.Value {
	t.Helper()
	div := document.Call("createElement", "div")
	div.Set("innerHTML", markup)
	document.Get("body").Call("append", div)
	t.Cleanup(func() { div.Call("remove") })
	return func(id string) js.Value { return document.Call("getElementById", id) }
}

func event(kind, name string, init map[string]any) js.Value {
	init["bubbles"] = true
	init["cancelable"] = true
	return global.Get(kind).New(name, init)
}

func TestText(t *testing.T) {
	at := page(t, `<p id="t1"><b>old</b></p>`)
	dom.SetText("t1", `<i>"&`)
	assert.Equal(t, `<i>"&`, dom.Text("t1"), "text never becomes markup")
	assert.Equal(t, 0, at("t1").Get("children").Length())
	assert.Equal(t, "", dom.Text("no such id"))
	dom.SetText("no such id", "is ignored")
}

func TestStateWakesThePage(t *testing.T) {
	at := page(t, `<div id="sleeping" inert></div>`)
	dom.SetState("loading")
	assert.True(t, at("sleeping").Get("inert").Bool())
	dom.SetState("ready")
	assert.False(t, at("sleeping").Get("inert").Bool())
	assert.Equal(t, "ready", dom.State())
}

func TestRound(t *testing.T) {
	page := document.Get("documentElement")
	dom.SetRound("listen")
	assert.Equal(t, "listen", page.Get("dataset").Get("round").String())
	dom.SetRound("tap")
	assert.Equal(t, "tap", page.Get("dataset").Get("round").String())
	dom.SetRound("")
	assert.Equal(t, "tap", page.Get("dataset").Get("round").String(), "a late finger still falls on the surface")
	for page.Call("hasAttribute", "data-round").Bool() {
		dom.Yield()
	}
}

func TestOptions(t *testing.T) {
	at := page(t, `<select id="s1"></select>`)
	dom.SetOptions("s1", []dom.Option{{Key: "a", Label: "A"}, {Key: "b", Label: "B", Group: "more"}, {Key: "c", Label: "C", Group: "more"}}, "b")
	assert.Equal(t, "b", dom.Value("s1"))
	assert.Equal(t, 1, at("s1").Call("querySelectorAll", "optgroup").Length())
	dom.SetValue("s1", "c")
	assert.Equal(t, "c", dom.Value("s1"))
	dom.SetOptions("s1", []dom.Option{{Key: "x", Label: "X"}}, "gone")
	assert.Equal(t, "x", dom.Value("s1"))

	options := []dom.Option{{Key: "x", Label: "X"}, {Key: "y", Label: "Y"}}
	dom.SetOptions("s1", options, "y")
	open := at("s1").Get("firstChild")
	dom.SetOptions("s1", options, "x")
	assert.Equal(t, "x", dom.Value("s1"))
	assert.True(t, at("s1").Get("firstChild").Equal(open), "a menu that is open stays so")
	options[0].Label = "other"
	dom.SetOptions("s1", options, "gone")
	assert.Equal(t, "other", at("s1").Get("firstChild").Get("textContent").String())
}

func TestButtons(t *testing.T) {
	at := page(t, `<div id="g1"></div><ul id="g2"></ul>`)
	pressed := make(chan string, 1)
	buttons := []dom.Button{{Key: "a", Label: "First", Detail: "C D", Pressed: true}, {Key: "b", Label: "Second"}}
	dom.SetButtons("g1", buttons, func(key string) { pressed <- "old " + key })
	second := at("g1").Get("children").Index(1)
	second.Call("focus")

	buttons[0].Pressed, buttons[1].Pressed = false, true
	dom.SetButtons("g1", buttons, func(key string) { pressed <- key })
	assert.True(t, document.Get("activeElement").Equal(second), "the focus stays where it was")
	assert.Equal(t, "true", second.Call("getAttribute", "aria-pressed").String())
	assert.Equal(t, "First C D", at("g1").Get("children").Index(0).Get("textContent").String())
	second.Call("click")
	assert.Equal(t, "b", <-pressed)

	dom.SetButtons("g1", buttons[:1], func(key string) { pressed <- key })
	assert.Equal(t, 1, at("g1").Get("children").Length())
	dom.SetButtons("g1", nil, nil)
	assert.Equal(t, 0, at("g1").Get("children").Length())

	dom.SetButtons("g2", buttons, func(key string) { pressed <- key })
	assert.Equal(t, "LI", at("g2").Get("children").Index(0).Get("tagName").String())
}

// A handler of a click may wait.
func TestClickMayBlock(t *testing.T) {
	at := page(t, `<button id="b1"></button>`)
	done := make(chan bool)
	dom.OnClick("b1", func() { dom.Yield(); done <- true })
	at("b1").Call("click")
	assert.True(t, <-done)
}

func TestKeys(t *testing.T) {
	at := page(t, `<input id="k1"><input id="k2" type="range"><button id="k3"></button><p id="k4" tabindex="0"></p>`)
	var got []dom.Key
	dom.OnKey(func(k dom.Key) bool {
		got = append(got, k)
		return k.Code == "KeyJ"
	})
	send := func(id, name string, init map[string]any) (k dom.Key, prevented bool) {
		got = nil
		e := event("KeyboardEvent", name, init)
		prevented = !at(id).Call("dispatchEvent", e).Bool()
		require.Len(t, got, 1)
		assert.Equal(t, e.Get("timeStamp").Float(), got[0].At, "the time of the event itself")
		return got[0], prevented
	}
	k, prevented := send("k4", "keydown", map[string]any{"code": "KeyJ", "key": "j"})
	assert.True(t, prevented)
	assert.Equal(t, dom.Key{Code: "KeyJ", Key: "j", Down: true, At: k.At}, k)
	k, prevented = send("k1", "keyup", map[string]any{"code": "KeyF", "key": "f", "repeat": true, "ctrlKey": true})
	assert.False(t, prevented)
	assert.Equal(t, dom.Key{Code: "KeyF", Key: "f", At: k.At, Repeat: true, Modified: true, Command: true, Editing: true}, k)
	k, _ = send("k2", "keydown", map[string]any{"code": "KeyF"})
	assert.True(t, k.Control && !k.Editing)
	k, _ = send("k3", "keydown", map[string]any{"code": "Space"})
	assert.True(t, k.Control && !k.Editing)
}

func TestPad(t *testing.T) {
	at := page(t, `<div id="pad" style="position:fixed;left:10px;top:20px;width:200px;height:100px"></div>`)
	var got []dom.Touch
	dom.OnPad(func(x dom.Touch) { got = append(got, x) })
	down := event("PointerEvent", "pointerdown", map[string]any{"pointerId": 3, "clientX": 60, "clientY": 95})
	other := event("PointerEvent", "pointerdown", map[string]any{"pointerId": 4, "clientX": 500, "clientY": 20})
	up := event("PointerEvent", "pointerup", map[string]any{"pointerId": 3, "clientX": 60, "clientY": 95})
	for _, e := range []js.Value{down, other, up} {
		at("pad").Call("dispatchEvent", e)
	}
	assert.Equal(t, []dom.Touch{
		{Pointer: 3, X: 0.25, Y: 0.75, At: down.Get("timeStamp").Float(), Down: true},
		{Pointer: 4, X: 1, Y: 0, At: other.Get("timeStamp").Float(), Down: true},
		{Pointer: 3, X: 0.25, Y: 0.75, At: up.Get("timeStamp").Float()},
	}, got)
}

func TestStage(t *testing.T) {
	at := page(t, `<div id="stage" style="position:fixed;left:10px;top:20px;width:200px;height:100px"></div>`)
	var clicks [][2]float64
	var drags []dom.Drag
	dom.OnStageDrag(func(d dom.Drag) { d.At = 0; drags = append(drags, d) })
	dom.OnStageClick(func(x, y float64) { clicks = append(clicks, [2]float64{x, y}) })
	send := func(kind, name string, x, y int) {
		at("stage").Call("dispatchEvent", event(kind, name, map[string]any{"pointerId": 1, "clientX": x, "clientY": y}))
	}
	send("PointerEvent", "pointerdown", 60, 50)
	send("PointerEvent", "pointermove", 63, 50)
	send("PointerEvent", "pointerup", 63, 50)
	send("MouseEvent", "click", 63, 50)
	assert.Equal(t, [][2]float64{{53, 30}}, clicks, "a finger that slips a little clicks")
	assert.Empty(t, drags)

	send("PointerEvent", "pointerdown", 60, 50)
	send("PointerEvent", "pointermove", 40, 50)
	send("PointerEvent", "pointerup", 30, 50)
	send("MouseEvent", "click", 30, 50)
	assert.Len(t, clicks, 1, "what ends a pull is no click")
	assert.Equal(t, []dom.Drag{{Phase: dom.DragStart}, {Phase: dom.DragMove, DX: -20}, {Phase: dom.DragEnd, DX: -30}}, drags)

	w, h := dom.StageSize()
	assert.Equal(t, [2]float64{200, 100}, [2]float64{w, h})
}

func TestFiles(t *testing.T) {
	at := page(t, `<input id="f1" type="file" multiple>`)
	got := make(chan []dom.File, 1)
	dom.OnFiles("f1", func(files []dom.File) { got <- files })
	dom.OnDrop(func(files []dom.File) { got <- files })

	transfer := func(names ...string) js.Value {
		dt := global.Get("DataTransfer").New()
		for _, name := range names {
			dt.Get("items").Call("add", global.Get("File").New([]any{"two bars of " + name}, name))
		}
		return dt
	}
	of := func(name string) dom.File { return dom.File{Name: name, Data: []byte("two bars of " + name)} }
	at("f1").Set("files", transfer("a.xml", "c.xml", "d.xml").Get("files"))
	at("f1").Call("dispatchEvent", event("Event", "change", map[string]any{}))
	assert.Equal(t, []dom.File{of("a.xml"), of("c.xml"), of("d.xml")}, <-got, "all of them")

	drop := event("DragEvent", "drop", map[string]any{"dataTransfer": transfer("b.xml", "e.xml")})
	assert.False(t, document.Get("body").Call("dispatchEvent", drop).Bool(), "the browser does not open the file itself")
	assert.Equal(t, []dom.File{of("b.xml"), of("e.xml")}, <-got)
}

func TestStore(t *testing.T) {
	const key = "agremens test"
	t.Cleanup(func() { assert.NoError(t, dom.Forget(key)) })
	require.NoError(t, dom.Store(key, "kept"))
	v, ok, err := dom.Load(key)
	require.NoError(t, err)
	assert.True(t, ok)
	assert.Equal(t, "kept", v)
	_, ok, err = dom.Load(key + " other")
	assert.NoError(t, err)
	assert.False(t, ok)
	assert.ErrorContains(t, dom.Store(key, strings.Repeat("x", 20<<20)), "nothing can be kept")
	v, _, _ = dom.Load(key)
	assert.Equal(t, "kept", v, "what was there stays")
	assert.Equal(t, []string{key}, dom.Keys("agremens te"))
	assert.Empty(t, dom.Keys("agremens test other"))
}

// Between two yields the browser runs what waits; a goroutine of ours alone
// would not let it.
func TestYield(t *testing.T) {
	fired := 0
	dom.After(0, func() { fired++ })
	for range 1000 {
		dom.Yield()
		if fired > 0 {
			break
		}
	}
	assert.Equal(t, 1, fired)
}

func TestEvery(t *testing.T) {
	ticks := make(chan float64, 100)
	stop := dom.Every(5, func() { ticks <- dom.Now() })
	a, b := <-ticks, <-ticks
	assert.Less(t, a, b)
	stop()
	stop()
}

func TestQuery(t *testing.T) {
	address := global.Get("location").Get("href").String()
	t.Cleanup(func() { global.Get("history").Call("replaceState", nil, "", address) })
	require.NoError(t, dom.SetAddress("?passage=turn&bars=1-4&bars=2-3#part"))
	assert.Equal(t, map[string]string{"passage": "turn", "bars": "2-3"}, dom.Query())
	assert.Equal(t, "part", dom.Fragment())
	assert.Error(t, dom.SetAddress("http://elsewhere.invalid/"))
}
