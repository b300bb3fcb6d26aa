package main

import (
	"agremens/game/look"
	"agremens/web/dom"
)

// bindLanguage connects the choice of the page's language, on the desk and on
// the student's page.
func (a *app) bindLanguage() {
	for _, id := range []string{"language", "student-language"} {
		dom.SetValue(id, a.words.Language())
		dom.OnChange(id, func() { a.setLanguage(id) })
	}
}

// setLanguage loads the page anew in the language of a menu. What is on the
// desk is kept before.
func (a *app) setLanguage(id string) {
	before, chosen := a.words.Language(), dom.Value(id)
	if chosen == before {
		return
	}
	a.rounds.Stop()
	a.rounds.Choose(a.rounds.Kind)
	if a.look.Notes == look.Customary(before) {
		a.setNotes(look.Customary(chosen).Key())
	}
	a.keep()
	// Settings in the address would be taken once more.
	fragment := dom.Fragment()
	if fragment != "" {
		fragment = "#" + fragment
	}
	_ = dom.SetAddress(dom.Address() + fragment)
	if dom.SetLanguage(chosen) != nil {
		dom.SetValue(id, before)
		a.say(a.words.Say("The other language could not be loaded, or this browser does not save anything for this page. Is there a network?"))
	}
}

// setNotes calls the notes by other names.
func (a *app) setNotes(key string) {
	a.setLook("notes", key)
	a.desk.SetNaming(a.look.Notes)
	a.changed()
}
