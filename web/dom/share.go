//go:build js

package dom

import "strings"

// CanShare reports whether the device has a way of its own to pass a link on.
func CanShare() bool { return global.Get("navigator").Get("share").Truthy() }

// Share passes a link on by the device's own way. It must be called from a
// handler of a click; that the user changed his mind is no error.
func Share(title, url string) error {
	promise := global.Get("navigator").Call("share", map[string]any{"title": title, "url": url})
	_, err := await(promise)
	if err != nil && strings.HasSuffix(err.Error(), "(AbortError)") {
		return nil
	}
	return err
}

// Print opens the browser's own print for one of the page's papers, which the
// style shows by html[data-print].
func Print(what string) {
	root.Get("dataset").Set("print", what)
	global.Call("print")
}

// SetPage says whose page this is: "" the desk, "student" a task at home.
func SetPage(kind string) { root.Get("dataset").Set("page", kind) }

// SetPlace names in <html data-place> which place of the desk is open; what
// has data-at is seen in the places it names.
func SetPlace(name string) { root.Get("dataset").Set("place", name) }
