//go:build js

package dom

import "syscall/js"

// Check is one of several boxes to tick.
type Check struct {
	Key, Label string
	Checked    bool
}

// SetChecks fills a container with boxes to tick; change is called with the
// key of the one that was changed.
func SetChecks(id string, checks []Check, change func(key string, checked bool)) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	for _, c := range checks {
		box := document.Call("createElement", "input")
		box.Set("type", "checkbox")
		box.Set("checked", c.Checked)
		box.Set("value", c.Key)
		label := document.Call("createElement", "label")
		label.Set("className", "check")
		label.Call("append", box, c.Label)
		e.Call("append", label)
		box.Call("addEventListener", "change", js.FuncOf(func(js.Value, []js.Value) any {
			go change(c.Key, box.Get("checked").Bool())
			return nil
		}))
	}
}

// SetNumbers fills a container with fields for numbers; change is called with
// the key of the one that was changed and what stands in it. Label and Key are
// those of a [Check].
func SetNumbers(id string, numbers []Check, values []string, change func(key, value string)) {
	e, ok := element(id)
	if !ok {
		return
	}
	e.Call("replaceChildren")
	for i, n := range numbers {
		label := appendNew(e, "label", n.Label+" ")
		label.Set("className", "field")
		input := appendTo(label, "input")
		input.Set("type", "number")
		input.Set("inputMode", "numeric")
		input.Set("value", values[i])
		input.Call("addEventListener", "change", js.FuncOf(func(js.Value, []js.Value) any {
			go change(n.Key, input.Get("value").String())
			return nil
		}))
	}
}
