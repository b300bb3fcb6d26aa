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

// Line is a row of a table that opens something.
type Line struct {
	Key   string
	Mark  string // a word for its style, "" none
	Cells []Cell
}

// Cell is one of its cells; the first is a button.
type Cell struct {
	Text, Detail string
	Drawing      string // an SVG document of the program's own, before the text
	Name         string // what the drawing shows, in words
	Tick         Tick   // a box to tick; the text is its name
}

// Tick is a box in a table.
type Tick int8

// Ticks.
const (
	NoBox Tick = iota
	Unticked
	Ticked
)

// TickOf is a box that is ticked or not.
func TickOf(on bool) Tick {
	if on {
		return Ticked
	}
	return Unticked
}

// SetLines fills a table with lines; what is pressed in the table calls the
// function that [OnLine] has set, with the line's key.
func SetLines(id string, head []string, lines []Line) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	row := appendTo(appendTo(e, "thead"), "tr")
	for _, text := range head {
		cell := appendNew(row, "th", text)
		cell.Set("scope", "col")
	}
	body := appendTo(e, "tbody")
	for _, l := range lines {
		row := appendTo(body, "tr")
		row.Get("dataset").Set("key", l.Key)
		row.Set("className", l.Mark)
		for i, c := range l.Cells {
			if i == 0 {
				cell := appendTo(row, "th")
				cell.Set("scope", "row")
				button := appendNew(cell, "button", c.Text)
				button.Set("type", "button")
				if c.Detail != "" {
					appendNew(button, "small", c.Detail)
				}
				continue
			}
			cell := appendTo(row, "td")
			if c.Tick != NoBox {
				label := appendTo(cell, "label")
				label.Set("className", "check")
				box := appendTo(label, "input")
				box.Set("type", "checkbox")
				box.Set("checked", c.Tick == Ticked)
				box.Call("setAttribute", "aria-label", c.Text+", "+l.Cells[0].Text+", "+l.Cells[1].Text)
				continue // the head of its column says what is ticked
			}
			if c.Drawing != "" {
				figure := appendTo(cell, "span")
				figure.Call("setAttribute", "role", "img")
				figure.Call("setAttribute", "aria-label", c.Name)
				appendDrawing(figure, c.Drawing)
			}
			cell.Call("append", c.Text)
			if c.Detail != "" {
				cell.Call("append", " ") // the two are read apart
				appendNew(cell, "small", c.Detail)
			}
		}
	}
}

// OnLine calls f with the key of the line that is pressed.
func OnLine(id string, f func(key string)) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("addEventListener", "click", js.FuncOf(func(_ js.Value, args []js.Value) any {
		target := args[0].Get("target")
		if !target.Call("closest", "label").IsNull() {
			return nil // a box to tick
		}
		if row := target.Call("closest", "tr[data-key]"); !row.IsNull() {
			key := row.Get("dataset").Get("key").String()
			go f(key)
		}
		return nil
	}))
}

func appendTo(parent js.Value, tag string) js.Value {
	e := document.Call("createElement", tag)
	parent.Call("append", e)
	return e
}

// SetDrawing shows SVG documents that the program made; "" takes them away.
// What is no SVG is not shown.
func SetDrawing(id string, svgs ...string) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	for _, svg := range svgs {
		appendDrawing(e, svg)
	}
}

func appendDrawing(e js.Value, svg string) {
	if svg == "" {
		return
	}
	root := global.Get("DOMParser").New().Call("parseFromString", svg, "image/svg+xml").Get("documentElement")
	// What cannot be read comes back with an element that says so in it.
	if root.Get("tagName").String() == "svg" && root.Call("querySelector", "parsererror").IsNull() {
		drawing := document.Call("importNode", root, true)
		if !drawing.Call("hasAttribute", "aria-label").Bool() {
			drawing.Call("setAttribute", "aria-hidden", "true") // its text stands beside it
		}
		e.Call("append", drawing)
	}
}

// OnTick calls f with the key of the line in which a box was ticked or unticked.
func OnTick(id string, f func(key string, on bool)) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Set("onchange", js.FuncOf(func(_ js.Value, args []js.Value) any {
		target := args[0].Get("target")
		key, on := target.Call("closest", "tr").Get("dataset").Get("key").String(), target.Get("checked").Bool()
		go f(key, on)
		return nil
	}))
}

// FocusTick puts the focus on the box of a line.
func FocusTick(id, key string) {
	if e, ok := element(id); ok {
		if box := e.Call("querySelector", "tr[data-key='"+key+"'] input"); !box.IsNull() {
			box.Call("focus")
		}
	}
}
