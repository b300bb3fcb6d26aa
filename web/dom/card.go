//go:build js

package dom

import "syscall/js"

// Card is a short text with a heading and buttons of its own.
type Card struct {
	Key   string
	Title string
	// Drawing is an SVG document of the program's own; "" none.
	Drawing string
	Picture *Picture // the same as outlines, nil for none
	Lines   []string
	// More is a list under a heading that opens it; none where it is empty.
	MoreTitle string
	More      []string
	Buttons   []Button
}

// SetCards fills a container with cards; press is called with the card's and
// the button's key.
func SetCards(id string, cards []Card, press func(card, button string)) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	for _, c := range cards {
		article := appendNew(e, "article", "")
		appendNew(article, "h3", c.Title)
		appendDrawing(article, c.Drawing)
		if c.Picture != nil {
			article.Call("append", c.Picture.drawing())
		}
		for _, line := range c.Lines {
			if line != "" {
				appendNew(article, "p", line)
			}
		}
		if len(c.More) > 0 {
			details := appendNew(article, "details", "")
			appendNew(details, "summary", c.MoreTitle)
			list := appendNew(details, "ul", "")
			for _, line := range c.More {
				appendNew(list, "li", line)
			}
		}
		if len(c.Buttons) == 0 {
			continue
		}
		row := appendNew(article, "div", "")
		row.Set("className", "row")
		for _, b := range c.Buttons {
			button := appendNew(row, "button", b.Label)
			button.Set("type", "button")
			// Screen readers list buttons away from their cards.
			button.Call("setAttribute", "aria-label", b.Label+", "+c.Title)
			button.Call("addEventListener", "click", js.FuncOf(func(js.Value, []js.Value) any {
				go press(c.Key, b.Key)
				return nil
			}))
		}
	}
}

func appendNew(parent js.Value, tag, text string) js.Value {
	e := document.Call("createElement", tag)
	if text != "" {
		e.Set("textContent", text)
	}
	parent.Call("append", e)
	return e
}
