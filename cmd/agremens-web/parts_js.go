package main

import (
	"agremens/game/shelf"
	"agremens/web/dom"
)

// bindParts lets another part of the file be chosen.
func (a *app) bindParts() {
	dom.OnChange("part", func() {
		it, ok := a.shelf.Find(a.desk.ID)
		if !ok || it.Kind != shelf.File {
			return
		}
		data, ok := kept(it)
		if !ok {
			a.say(a.words.Say("The browser no longer has this file: please open it again."))
			return
		}
		a.openFile(it.Name, data, dom.Value("part"))
	})
}

// showParts shows the parts of a file that has several.
func (a *app) showParts() {
	dom.SetHidden("part-field", len(a.view.parts) < 2)
	var options []dom.Option
	var joined, chosen string
	for _, p := range a.view.parts {
		options = append(options, dom.Option{Key: p.ID, Label: orElse(p.Name, p.ID)})
		if p.Chosen {
			if joined != "" {
				joined += "+"
			}
			joined += p.ID
			chosen = p.ID
		}
	}
	if joined != chosen { // two hands in two parts
		options = append([]dom.Option{{Key: joined, Label: a.words.Say("both hands")}}, options...)
	}
	dom.SetOptions("part", options, joined)
}
