package main

import (
	"strings"

	"agremens/game/shelf"
	"agremens/web/dom"
)

func (a *app) loadShelf() {
	text, _, _ := dom.Load(shelfKey)
	a.shelf = shelf.Parse(text)
}

// keepPassage puts what a passage was made of on the shelf and returns its
// id. A file that is there already keeps its id, and with it what was decided.
// Where there is no room the oldest make some, and the page says so.
func (a *app) keepPassage(item shelf.Item, data []byte) string {
	text := packed(data)
	item.Size = len(text)
	if item.Kind == shelf.File {
		item.ID = a.alreadyKept(item, text)
	}
	next, item, dropped := a.shelf.Put(item)
	a.shelf = next
	for _, it := range dropped {
		a.forget(it)
	}
	for dom.Store(keptKey+item.ID, text) != nil {
		next, oldest, ok := a.shelf.DropOldest()
		if !ok {
			a.shelf = a.shelf.Without(item.ID)
			_ = dom.Forget(keptKey + item.ID)
			a.say(a.words.Say("“{name}” is open, but this browser has no room to save it: after a reload you will have to open it again.", "{name}", item.Name))
			return item.ID
		}
		a.shelf = next
		a.forget(oldest)
		dropped = append(dropped, oldest)
	}
	if dom.Store(shelfKey, a.shelf.Text()) != nil {
		a.unkept()
	}
	if len(dropped) > 0 {
		var names []string
		for _, it := range dropped {
			names = append(names, a.words.Say("“{name}”", "{name}", it.Name))
		}
		a.say(a.words.Say("To make room on this device these were removed: {names}.", "{names}", strings.Join(names, ", ")))
	}
	return item.ID
}

// alreadyKept returns the id of a file that is on the shelf with the same
// contents, "" for none.
func (a *app) alreadyKept(item shelf.Item, text string) string {
	for _, it := range a.shelf.Items {
		id := it.ID
		it.ID = ""
		if it != item {
			continue
		}
		if old, _, _ := dom.Load(keptKey + id); old == text {
			return id
		}
	}
	return ""
}

func (a *app) forget(it shelf.Item) {
	_ = dom.Forget(keptKey + it.ID)
	_ = dom.Forget(pastKey + it.ID)
}

// kept returns what an item of the shelf holds.
func kept(it shelf.Item) ([]byte, bool) {
	text, ok, err := dom.Load(keptKey + it.ID)
	if !ok || err != nil {
		return nil, false
	}
	return unpacked(text)
}
