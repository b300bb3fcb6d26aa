//go:build js

package dom

import "syscall/js"

// BindHelp lets every button with data-help="NAME" open the sheet with the
// id, showing its section id-NAME alone. Menus and sheets beneath stay open,
// and the focus comes back to the button.
func BindHelp(id string) {
	sheet, ok := element(id)
	if !ok {
		return
	}
	listen("click", func(event js.Value) {
		button := event.Get("target").Call("closest", "[data-help]")
		if button.IsNull() || sheet.Get("open").Bool() {
			return
		}
		section := document.Call("getElementById", id+"-"+button.Get("dataset").Get("help").String())
		if section.IsNull() {
			return
		}
		for _, s := range all(sheet, "section") {
			s.Set("hidden", !s.Equal(section))
		}
		sheet.Call("showModal")
		section.Call("querySelector", "h2").Call("focus") // not the button at its end: one reads from the top
		sheet.Set("scrollTop", 0)
	})
}
