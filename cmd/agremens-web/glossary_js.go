package main

import (
	"agremens/game/desk"
	"agremens/game/engrave"
	"agremens/game/glossary"
	"agremens/realize/music"
	"agremens/realize/words"
	"agremens/web/dom"
)

// glossaryHost is what the sheet of signs asks of the program.
type glossaryHost interface {
	OnDesk() *desk.Desk
	StopSound()
}

// glossaries is the sheet with the signs and their names, which opens from a
// sign's words and from More.
type glossaries struct {
	words *words.Catalogue
	staff *staff
	host  glossaryHost
}

func newGlossary(c *words.Catalogue, s *staff, h glossaryHost) {
	g := &glossaries{c, s, h}
	dom.OnClick("open-glossary", func() { g.open(glossary.Entries()[0].Key) })
	dom.OnClick("elsewhere", func() {
		if o, ok := h.OnDesk().Ornament(); ok {
			g.open(glossary.Of(o))
		}
	})
	dom.OnClick("glossary-close", func() { dom.CloseSheet("glossary") })
	shown := ""
	dom.OnInput("glossary-find", func() {
		found := glossary.Called(dom.Value("glossary-find"))
		if len(found) > 0 {
			shown = found[0].Key
		}
		g.show(found, shown)
	})
}

func (g *glossaries) open(key string) {
	g.host.StopSound()
	dom.SetValue("glossary-find", "")
	g.show(glossary.Entries(), key)
	dom.OpenSheet("glossary")
}

// show offers entries and tells of the one with the key.
func (g *glossaries) show(offered []glossary.Entry, key string) {
	var buttons []dom.Button
	for _, e := range offered {
		buttons = append(buttons, dom.Button{Key: e.Key, Label: e.Title(g.words), Pressed: e.Key == key, Picture: examplePicture(&e)})
	}
	dom.SetButtons("glossary-signs", buttons, func(key string) { g.show(offered, key) })
	dom.SetText("glossary-none", "")
	if len(offered) == 0 {
		dom.SetText("glossary-none", g.words.Say("No sign here has that name."))
	}
	e, ok := glossary.Find(key)
	dom.SetHidden("glossary-entry", !ok || len(offered) == 0)
	if !ok {
		return
	}
	dom.SetText("glossary-title", e.Title(g.words))
	dom.SetPicture("glossary-picture", examplePicture(&e))
	dom.SetText("glossary-asks", g.words.Say(e.Asks))
	dom.SetText("glossary-played", g.words.Say("On a quarter note {note}, at 72 quarter notes per minute", "{note}", g.staff.look.Notes.Name(music.Pitch{})))
	var rows [][]string
	for _, l := range glossary.Languages() {
		rows = append(rows, []string{g.words.Say(l.String()), e.NamesIn(l, g.words)})
	}
	dom.SetTable("glossary-names", nil, rows)
	var cards []dom.Card
	for _, w := range e.Ways(g.staff.look.Notes, g.words) {
		c := dom.Card{Title: w.Who(g.words), Lines: []string{w.Notes + ".", w.Why}}
		if r, err := e.Example(w.Tradition, g.staff.look.Notes, g.words); err == nil && len(r.Ornaments) > 0 {
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
