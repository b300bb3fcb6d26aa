package main

import (
	"agremens/game/engrave"
	"agremens/game/glossary"
	"agremens/realize/music"
	"agremens/web/dom"
)

// bindGlossary connects the sheet with the signs and their names, which opens
// from a sign's words and from More.
func (a *app) bindGlossary() {
	dom.OnClick("open-glossary", func() { a.openGlossary(glossary.Entries()[0].Key) })
	dom.OnClick("elsewhere", func() {
		if o, ok := a.desk.Ornament(); ok {
			a.openGlossary(glossary.Of(o))
		}
	})
	dom.OnClick("glossary-close", func() { dom.CloseSheet("glossary") })
	shown := ""
	dom.OnInput("glossary-find", func() {
		found := glossary.Called(dom.Value("glossary-find"))
		if len(found) > 0 {
			shown = found[0].Key
		}
		a.showGlossary(found, shown)
	})
}

func (a *app) openGlossary(key string) {
	if a.rounds.Sounding() {
		a.rounds.Stop()
	}
	dom.SetValue("glossary-find", "")
	a.showGlossary(glossary.Entries(), key)
	dom.OpenSheet("glossary")
}

// showGlossary offers entries and tells of the one with the key.
func (a *app) showGlossary(offered []glossary.Entry, key string) {
	var buttons []dom.Button
	for _, e := range offered {
		buttons = append(buttons, dom.Button{Key: e.Key, Label: e.Title(a.words), Pressed: e.Key == key, Picture: examplePicture(&e)})
	}
	dom.SetButtons("glossary-signs", buttons, func(key string) { a.showGlossary(offered, key) })
	dom.SetText("glossary-none", "")
	if len(offered) == 0 {
		dom.SetText("glossary-none", a.words.Say("No sign here has that name."))
	}
	e, ok := glossary.Find(key)
	dom.SetHidden("glossary-entry", !ok || len(offered) == 0)
	if !ok {
		return
	}
	dom.SetText("glossary-title", e.Title(a.words))
	dom.SetPicture("glossary-picture", examplePicture(&e))
	dom.SetText("glossary-asks", a.words.Say(e.Asks))
	dom.SetText("glossary-played", a.words.Say("On a quarter note {note}, at 72 quarter notes per minute", "{note}", a.look.Notes.Name(music.Pitch{})))
	var rows [][]string
	for _, l := range glossary.Languages() {
		rows = append(rows, []string{a.words.Say(l.String()), e.NamesIn(l, a.words)})
	}
	dom.SetTable("glossary-names", nil, rows)
	var cards []dom.Card
	for _, w := range e.Ways(a.look.Notes, a.words) {
		c := dom.Card{Title: w.Who(a.words), Lines: []string{w.Notes + ".", w.Why}}
		if r, err := e.Example(w.Tradition, a.look.Notes, a.words); err == nil && len(r.Ornaments) > 0 {
			o := &r.Ornaments[0]
			c.Picture = picture(engrave.Preview(r.Passage, r, o.ID, o.Chosen))
		}
		cards = append(cards, c)
	}
	dom.SetCards("glossary-ways", cards, nil)
}

// examplePicture draws the sign as it is printed.
func examplePicture(e *glossary.Entry) *dom.Picture {
	r, err := e.Example("", music.EnglishNames, nil)
	if err != nil || len(r.Ornaments) == 0 {
		return nil
	}
	return picture(engrave.Printed(r.Passage, r, r.Ornaments[0].ID))
}
