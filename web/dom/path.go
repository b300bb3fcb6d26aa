//go:build js

package dom

import "syscall/js"

// Stone is a step of a path.
type Stone struct {
	Label string
	Mark  string // of the page's style: "done", "now", "later"
	Said  string // beside the label, for a screen reader; "" nothing
}

// SetPath fills a list with steps; the one that is "now" is told as such.
func SetPath(id string, stones []Stone) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	for _, s := range stones {
		li := document.Call("createElement", "li")
		li.Set("textContent", s.Label)
		li.Get("dataset").Set("mark", s.Mark)
		if s.Mark == "now" {
			li.Call("setAttribute", "aria-current", "step")
		}
		if s.Said != "" {
			said := document.Call("createElement", "span")
			said.Set("className", "unseen")
			said.Set("textContent", " "+s.Said)
			li.Call("append", said)
		}
		e.Call("append", li)
	}
}

// SetPageData sets a data attribute of the whole page, for its style.
func SetPageData(name, value string) {
	if root.Get("dataset").Get(name).Equal(js.ValueOf(value)) {
		return
	}
	root.Get("dataset").Set(name, value)
}

// Move puts an element at the end of another, or back where it was first.
func Move(id, into string) {
	e, ok := element(id)
	if !ok {
		return
	}
	if into == "" {
		if home, ok := homes[id]; ok {
			home.Call("before", e)
			home.Call("remove")
			delete(homes, id)
		}
		return
	}
	if _, away := homes[id]; !away {
		homes[id] = document.Call("createComment", id)
		e.Call("before", homes[id])
	}
	if to, ok := element(into); ok {
		to.Call("append", e)
	}
}

var homes = map[string]js.Value{}
