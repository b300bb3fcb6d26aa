package main

import (
	"agremens/game/look"
	"agremens/realize/words"
	"agremens/web/dom"
)

// languageHost is what the choice of a language asks of the program.
type languageHost interface {
	Leave()
	Address(fragment string)
	Say(string)
}

// languages is the choice of the page's language, on the desk and on the
// student's page.
type languages struct {
	words *words.Catalogue
	tools *tools
	host  languageHost
}

func newLanguage(c *words.Catalogue, t *tools, h languageHost) {
	l := &languages{c, t, h}
	for _, id := range []string{"language", "student-language"} {
		dom.SetValue(id, c.Language())
		dom.OnChange(id, func() { l.choose(id) })
	}
}

// choose loads the page anew in the language of a menu. What is on the desk is
// kept before.
func (l *languages) choose(id string) {
	before, chosen := l.words.Language(), dom.Value(id)
	if chosen == before {
		return
	}
	if l.tools.staff.look.Notes == look.Customary(before) {
		l.tools.name(look.Customary(chosen).Key())
	}
	l.host.Leave()
	// Settings in the address would be taken once more.
	l.host.Address(dom.Fragment())
	if dom.SetLanguage(chosen) != nil {
		dom.SetValue(id, before)
		l.host.Say(l.words.Say("The other language could not be loaded, or this browser does not save anything for this page. Is there a network?"))
	}
}
