//go:build js

package dom

// SelectText selects what is from one place of a text field to another,
// counted in UTF-16 units, and brings it in sight.
func SelectText(id string, from, to int) {
	if e, ok := element(id); ok {
		e.Call("focus")
		e.Call("setSelectionRange", from, to)
	}
}

// SetMarked fills an element with a text of which a part is marked.
func SetMarked(id, before, marked, after string) {
	e, ok := element(id)
	if !ok {
		return
	}
	mark := document.Call("createElement", "mark")
	mark.Set("textContent", marked)
	e.Call("replaceChildren", before, mark, after)
}
