//go:build js

package dom

import "syscall/js"

// SetTable fills a table with texts: a row of column heads ("head" may be
// empty), then rows whose first cell is the row's own head.
func SetTable(id string, head []string, rows [][]string) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	if len(head) > 0 {
		row := appendTo(appendTo(e, "thead"), "tr")
		for _, text := range head {
			cell := appendTo(row, "th")
			cell.Set("scope", "col")
			cell.Set("textContent", text)
		}
	}
	body := appendTo(e, "tbody")
	for _, texts := range rows {
		row := appendTo(body, "tr")
		for i, text := range texts {
			kind := "td"
			if i == 0 {
				kind = "th"
			}
			cell := appendTo(row, kind)
			if i == 0 {
				cell.Set("scope", "row")
			}
			cell.Set("textContent", text)
		}
	}
}

func appendTo(parent js.Value, tag string) js.Value {
	e := document.Call("createElement", tag)
	parent.Call("append", e)
	return e
}

// SetDrawing shows an SVG document that the program made; "" takes it away.
// What is no SVG is not shown.
func SetDrawing(id, svg string) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	appendDrawing(e, svg)
}

func appendDrawing(e js.Value, svg string) {
	if svg == "" {
		return
	}
	root := global.Get("DOMParser").New().Call("parseFromString", svg, "image/svg+xml").Get("documentElement")
	// What cannot be read comes back with an element that says so in it.
	if root.Get("tagName").String() == "svg" && root.Call("querySelector", "parsererror").IsNull() {
		e.Call("append", document.Call("importNode", root, true))
	}
}
