//go:build js

package dom

import (
	"strconv"
	"syscall/js"
)

// Question is a text with a row of answers.
type Question struct {
	Text    string
	Answers []string
	Show    string // label of a button that shows what it is about, "" for none
}

var asked struct {
	shape string // of the questions that stand there
	funcs []js.Func
	take  func(question, answer int)
}

// SetQuestions fills a list with questions. take is called with the indexes
// of a question and the answer that was pressed, -1 for the button that shows
// the place. Questions that have not changed stay where they are and keep the
// focus.
func SetQuestions(id string, questions []Question, take func(question, answer int)) {
	e, ok := element(id)
	if !ok {
		return
	}
	asked.take = take
	shape := ""
	for _, q := range questions {
		shape += q.Text + "\x00" + q.Show
		for _, a := range q.Answers {
			shape += "\x00" + a
		}
		shape += "\n"
	}
	if shape == asked.shape {
		return
	}
	asked.shape = shape
	for _, f := range asked.funcs {
		f.Release()
	}
	asked.funcs = nil
	e.Call("replaceChildren")
	for i, q := range questions {
		e.Call("append", q.item(i))
	}
}

func (q *Question) item(at int) js.Value {
	item := document.Call("createElement", "li")
	text := document.Call("createElement", "p")
	text.Set("textContent", q.Text)
	name := "question-" + strconv.Itoa(at)
	text.Set("id", name)
	row := document.Call("createElement", "div")
	row.Call("setAttribute", "role", "group")
	row.Call("setAttribute", "aria-labelledby", name)
	for i, a := range q.Answers {
		row.Call("append", answer(a, at, i))
	}
	if q.Show != "" {
		row.Call("append", answer(q.Show, at, -1))
	}
	item.Call("append", text, row)
	return item
}

func answer(label string, question, index int) js.Value {
	button := document.Call("createElement", "button")
	button.Set("type", "button")
	button.Set("textContent", label)
	button.Get("dataset").Set("answer", index)
	f := js.FuncOf(func(js.Value, []js.Value) any {
		go asked.take(question, index)
		return nil
	})
	button.Call("addEventListener", "click", f)
	asked.funcs = append(asked.funcs, f)
	return button
}
