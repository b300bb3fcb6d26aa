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
			a.say(a.words.Say("This file is no longer kept by the browser: please open it again."))
			return
		}
		a.openFile(it.Name, data, dom.Value("part"))
	})
}

// showParts offers the parts of a file that has several, and which of them are
// the two hands.
func (a *app) showParts() {
	dom.SetHidden("part-field", len(a.view.parts) < 2)
	var options []dom.Option
	chosen := ""
	for _, p := range a.view.parts {
		options = append(options, dom.Option{Key: p.ID, Label: p.Label})
		if p.Chosen {
			chosen = p.ID
		}
	}
	dom.SetOptions("part", options, chosen)
}
