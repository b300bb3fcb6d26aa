//go:build js

package dom

import (
	"slices"
	"syscall/js"
)

// Value returns the value of an input or select.
func Value(id string) string {
	e, ok := element(id)
	if !ok {
		return ""
	}
	return e.Get("value").String()
}

// SetValue sets the value of an input or select. It calls no handler.
func SetValue(id, value string) {
	if e, ok := element(id); ok && e.Get("value").String() != value {
		e.Set("value", value)
	}
}

// Checked reports whether a checkbox is checked.
func Checked(id string) bool {
	e, ok := element(id)
	return ok && e.Get("checked").Truthy()
}

// SetChecked checks a checkbox or clears it. It calls no handler.
func SetChecked(id string, checked bool) {
	if e, ok := element(id); ok {
		e.Set("checked", checked)
	}
}

// Option is one entry of a select.
type Option struct {
	Key   string // its value
	Label string
	Group string // heading above it and its neighbours of the same group; "" for none
}

// filled is a select and the options that stand in it.
type filled struct {
	element js.Value
	options []Option
}

var selects = map[string]filled{}

// SetOptions fills a select, when it holds other options. A selected key that
// is not among the options leaves the first one selected.
func SetOptions(id string, options []Option, selected string) {
	e, ok := element(id)
	if !ok {
		return
	}
	if is := selects[id]; !is.element.Equal(e) || !slices.Equal(is.options, options) {
		fill(e, options)
		selects[id] = filled{e, slices.Clone(options)}
	}
	at := slices.IndexFunc(options, func(o Option) bool { return o.Key == selected })
	if at = max(0, at); e.Get("selectedIndex").Int() != at {
		e.Set("selectedIndex", at)
	}
}

func fill(e js.Value, options []Option) {
	e.Call("replaceChildren")
	parent, group := e, ""
	for _, o := range options {
		if o.Group != group {
			parent, group = e, o.Group
			if group != "" {
				parent = document.Call("createElement", "optgroup")
				parent.Set("label", group)
				e.Call("append", parent)
			}
		}
		option := document.Call("createElement", "option")
		option.Set("value", o.Key)
		option.Set("textContent", o.Label)
		parent.Call("append", option)
	}
}

// Button is one of a group of buttons made by the program.
type Button struct {
	Key     string
	Label   string
	Detail  string // a smaller second line, "" for none
	Pressed bool
	Picture *Picture // above the words, nil for none
}

// made are the buttons standing in each container.
type made struct {
	keys    []string
	buttons []js.Value
	written []Button
	choose  func(string)
	funcs   []js.Func
}

var groups = map[string]*made{}

// SetButtons fills a container with buttons; choose is called with the key of
// the one that was pressed. Buttons whose keys have not changed stay where
// they are and keep the focus.
func SetButtons(id string, buttons []Button, choose func(key string)) {
	e, ok := element(id)
	if !ok {
		return
	}
	g := groups[id]
	if g == nil || !g.holds(buttons) {
		if g != nil {
			g.release()
		}
		g = build(e, buttons)
		groups[id] = g
	}
	g.choose = choose
	for i, b := range buttons {
		if g.written[i] != b {
			write(g.buttons[i], b)
			g.written[i] = b
		}
	}
}

func (g *made) holds(buttons []Button) bool {
	if len(g.keys) != len(buttons) {
		return false
	}
	for i, b := range buttons {
		if g.keys[i] != b.Key {
			return false
		}
	}
	return true
}

func (g *made) release() {
	for _, f := range g.funcs {
		f.Release()
	}
}

func build(container js.Value, buttons []Button) *made {
	g := &made{}
	container.Call("replaceChildren")
	inList := container.Get("tagName").String() == "UL"
	for _, b := range buttons {
		button := document.Call("createElement", "button")
		button.Set("type", "button")
		key := b.Key
		f := js.FuncOf(func(js.Value, []js.Value) any {
			go g.choose(key)
			return nil
		})
		button.Call("addEventListener", "click", f)
		if inList {
			li := document.Call("createElement", "li")
			li.Call("append", button)
			container.Call("append", li)
		} else {
			container.Call("append", button)
		}
		g.keys = append(g.keys, key)
		g.buttons = append(g.buttons, button)
		g.written = append(g.written, Button{Key: "\x00"})
		g.funcs = append(g.funcs, f)
	}
	return g
}

func write(button js.Value, b Button) {
	button.Get("dataset").Set("key", b.Key)
	button.Call("setAttribute", "aria-pressed", b.Pressed)
	if b.Picture == nil {
		button.Set("textContent", b.Label)
	} else {
		button.Call("replaceChildren", b.Picture.drawing(), b.Label)
	}
	if b.Detail != "" {
		small := document.Call("createElement", "small")
		small.Set("textContent", b.Detail)
		button.Call("append", " ", small)
	}
}

// OnClick calls f when the element is clicked or pressed by keyboard.
func OnClick(id string, f func()) { on(id, "click", f) }

// OnChange calls f when the user has finished changing a control.
func OnChange(id string, f func()) { on(id, "change", f) }

// OnInput calls f at every step of a change, while a slider moves.
func OnInput(id string, f func()) { on(id, "input", f) }

func on(id, event string, f func()) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("addEventListener", event, js.FuncOf(func(js.Value, []js.Value) any {
		go f()
		return nil
	}))
}

// OnEnter calls f when the Enter key is pressed in a field.
func OnEnter(id string, f func()) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("addEventListener", "keydown", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if text(args[0].Get("key")) == "Enter" {
			args[0].Call("preventDefault")
			go f()
		}
		return nil
	}))
}
