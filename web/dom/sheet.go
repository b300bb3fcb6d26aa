//go:build js

package dom

import "syscall/js"

// OpenSheet opens a <dialog> over the page; menus close. The browser keeps
// the focus in it and gives it back when it closes.
func OpenSheet(id string) {
	CloseMenus()
	e, ok := element(id)
	if !ok || e.Get("open").Bool() {
		return
	}
	e.Call("showModal")
	// One comes to do something, not for help.
	if document.Get("activeElement").Call("matches", "[data-help]").Bool() {
		for _, other := range all(e, "a[href], button, input, select, textarea, summary") {
			if !other.Call("matches", "[data-help], :disabled").Bool() && other.Get("offsetParent").Truthy() {
				other.Call("focus")
				return
			}
		}
	}
}

// all returns what a selector finds within an element.
func all(e js.Value, selector string) []js.Value {
	list := e.Call("querySelectorAll", selector)
	found := make([]js.Value, list.Length())
	for i := range found {
		found[i] = list.Index(i)
	}
	return found
}

// CloseSheet closes a <dialog>; a closed one stays closed.
func CloseSheet(id string) {
	if e, ok := element(id); ok && e.Get("open").Bool() {
		e.Call("close")
	}
}

// OnSheetClosed calls f when a <dialog> was closed, by the program or by the
// Escape key.
func OnSheetClosed(id string, f func()) { on(id, "close", f) }

// OnToggle calls f when a <details> is opened or closed.
func OnToggle(id string, f func()) { on(id, "toggle", f) }

// SetOpen opens or closes a <details>.
func SetOpen(id string, open bool) {
	if e, ok := element(id); ok {
		e.Set("open", open)
	}
}

// IsOpen reports whether a <details> or <dialog> is open.
func IsOpen(id string) bool {
	e, ok := element(id)
	return ok && e.Get("open").Truthy()
}

// CloseMenus closes the page's open menus.
func CloseMenus() {
	for _, menu := range all(document, "details.menu[open]") {
		menu.Call("removeAttribute", "open")
	}
}

// sheetOpen reports whether a <dialog> lies over the page.
func sheetOpen() bool { return !document.Call("querySelector", "dialog[open]").IsNull() }

// BindMenus lets one menu be open at a time, and closes it when something
// else is touched, a line of a list or one of the student's buttons is chosen, or
// Escape is pressed.
func BindMenus() {
	listen("click", func(event js.Value) {
		target := event.Get("target")
		if !target.Call("closest", "dialog").IsNull() {
			return // a sheet over the menu
		}
		menu := target.Call("closest", "details.menu")
		chosen := !target.Call("closest", ".panel.list button, #student-more button:not(.what)").IsNull()
		for _, m := range all(document, "details.menu[open]") {
			if chosen || !m.Equal(menu) {
				m.Call("removeAttribute", "open")
			}
		}
	})
	listen("keydown", func(event js.Value) {
		if event.Get("key").String() != "Escape" || !event.Get("target").Call("closest", "dialog").IsNull() {
			return
		}
		if menu := document.Call("querySelector", "details.menu[open]"); !menu.IsNull() {
			menu.Call("removeAttribute", "open")
			menu.Call("querySelector", "summary").Call("focus")
		}
	})
}

// BindFolds lets every button with aria-expanded show and hide what it
// controls: the page's style looks at the attribute. What is shown comes in
// sight.
func BindFolds() {
	listen("click", func(event js.Value) {
		if fold := event.Get("target").Call("closest", "button.fold"); !fold.IsNull() {
			open := fold.Call("getAttribute", "aria-expanded").String() == "true"
			fold.Call("setAttribute", "aria-expanded", !open)
			if shown, there := element(fold.Call("getAttribute", "aria-controls").String()); there && !open {
				shown.Call("scrollIntoView", map[string]any{"block": "nearest"})
			}
		}
	})
}

func listen(event string, f func(event js.Value)) {
	document.Call("addEventListener", event, js.FuncOf(func(_ js.Value, args []js.Value) any {
		f(args[0])
		return nil
	}))
}
