//go:build js

package dom

import "syscall/js"

var (
	global   = js.Global()
	document = global.Get("document")
	root     = document.Get("documentElement")

	elements = map[string]js.Value{}
	absent   = map[string]bool{}
)

// element finds an element by its id, once.
func element(id string) (js.Value, bool) {
	if e, ok := elements[id]; ok {
		return e, true
	}
	e := document.Call("getElementById", id)
	if e.IsNull() {
		if !absent[id] {
			absent[id] = true
			global.Get("console").Call("error", "the page has no element #"+id)
		}
		return js.Value{}, false
	}
	elements[id] = e
	return e, true
}

// SetState names what the program is doing in <html data-state>: loading,
// ready, counting, listening, tapping, result or error. Once it is no longer
// loading the controls can be used.
func SetState(state string) {
	root.Get("dataset").Set("state", state)
	if state != "loading" {
		wake()
	}
}

// State returns <html data-state>.
func State() string { return root.Get("dataset").Get("state").String() }

// lingerMS is how long the tapping surface stays when a round is over: the
// next finger, already on its way down, must not press what lies beneath.
const lingerMS = 700

var round string

// SetRound tells the page's style what kind of round runs: "tap" brings up
// the tapping surface where there is glass, "listen" and "" do not.
func SetRound(kind string) {
	if kind == round {
		return
	}
	leaving := round == "tap"
	round = kind
	if !leaving {
		writeRound()
		return
	}
	after(lingerMS, writeRound)
}

func writeRound() {
	if round == "" {
		root.Call("removeAttribute", "data-round")
		return
	}
	root.Get("dataset").Set("round", round)
}

var awake bool

func wake() {
	if awake {
		return
	}
	awake = true
	all := document.Call("querySelectorAll", "[inert]")
	for i := range all.Length() {
		all.Index(i).Set("inert", false)
	}
}

// Text returns an element's text.
func Text(id string) string {
	e, ok := element(id)
	if !ok {
		return ""
	}
	return e.Get("textContent").String()
}

// SetText replaces an element's content by plain text. Setting the same text
// again does nothing, so it may be called every frame.
func SetText(id, text string) {
	if e, ok := element(id); ok && e.Get("textContent").String() != text {
		e.Set("textContent", text)
	}
}

// SetHidden hides an element or shows it.
func SetHidden(id string, hidden bool) {
	if e, ok := element(id); ok {
		e.Set("hidden", hidden)
	}
}

// SetDisabled switches a control off or on.
func SetDisabled(id string, disabled bool) {
	if e, ok := element(id); ok {
		e.Set("disabled", disabled)
	}
}

// SetAttr sets an attribute.
func SetAttr(id, name, value string) {
	if e, ok := element(id); ok {
		e.Call("setAttribute", name, value)
	}
}

// SetData sets a data attribute; name is written with hyphens, without the
// leading "data-".
func SetData(id, name, value string) { SetAttr(id, "data-"+name, value) }

// Focus moves the keyboard's focus to an element.
func Focus(id string) {
	if e, ok := element(id); ok {
		e.Call("focus")
	}
}

// Reveal brings an element in sight where the page scrolls.
func Reveal(id string) {
	if e, ok := element(id); ok {
		e.Call("scrollIntoView")
	}
}

// Message shows an alert above the staff; "" takes it away.
func Message(text string) {
	SetHidden("message", text == "")
	SetText("message-text", text)
}

// Announce puts a short text into the status line, where a screen reader
// reads it out, also when it is the same as before.
func Announce(text string) {
	if text != "" && Text("status") == text {
		text += "\u00a0"
	}
	SetText("status", text)
}

// SetList fills a list with one item a text.
func SetList(id string, items []string) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	for _, text := range items {
		li := document.Call("createElement", "li")
		li.Set("textContent", text)
		e.Call("append", li)
	}
}

// SetClass gives an element a class of the page's style, or takes it away.
func SetClass(id, class string, on bool) {
	if e, ok := element(id); ok {
		e.Get("classList").Call("toggle", class, on)
	}
}

// Hidden reports whether an element has been hidden.
func Hidden(id string) bool {
	e, ok := element(id)
	return !ok || e.Get("hidden").Truthy()
}
