package main

import (
	"slices"
	"strings"

	"agremens/assets"
	"agremens/game/class"
	"agremens/game/shelf"
	"agremens/realize/words"
	"agremens/web/dom"
)

// findHost is what looking for a piece asks of the program.
type findHost interface {
	OnShelf() []shelf.Item
	Class() *class.Class
	Open(id string)
}

// newFind offers, as one types, the pieces whose title or students match, the
// one used last first; name is how a kept one is called.
func newFind(c *words.Catalogue, h findHost, name func(*shelf.Item) string) {
	open := func(id string) {
		dom.CloseSheet("bring")
		dom.SetValue("piece-find", "")
		dom.SetButtons("piece-found", nil, nil)
		h.Open(id)
	}
	dom.OnInput("piece-find", func() {
		find := dom.Value("piece-find")
		var found []dom.Button
		offer := func(id, title, of string) {
			if shelf.Matches(find, title, of) {
				found = append(found, dom.Button{Key: id, Label: title, Detail: of})
			}
		}
		students := h.Class().Students
		for _, it := range slices.Backward(h.OnShelf()) {
			offer(it.ID, name(&it), given(students, it.ID))
		}
		for _, e := range assets.Passages() {
			offer(e.ID, c.Say(e.Title), "")
		}
		dom.SetButtons("piece-found", found, open)
	})
}

// given names the students who were given the task that is kept under an id.
func given(students []*class.Student, id string) string {
	task, ok := strings.CutPrefix(id, class.TaskPrefix)
	if !ok {
		return ""
	}
	var names []string
	for _, s := range students {
		if s.Work(task) != nil && s.Name != "" {
			names = append(names, s.Name)
		}
	}
	return strings.Join(names, ", ")
}
